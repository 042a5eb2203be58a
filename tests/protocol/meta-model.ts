/**
 * Holds messages against the meta model of the protocol (`lsp-metaModel.json`), and says what does not fit.
 * A property that the model does not know does not fit either.
 */
import { readFileSync } from 'node:fs';

type Type =
  | { kind: 'base'; name: string }
  | { kind: 'reference'; name: string }
  | { kind: 'array'; element: Type }
  | { kind: 'map'; key: Type; value: Type }
  | { kind: 'and' | 'or' | 'tuple'; items: Type[] }
  | { kind: 'literal'; value: { properties: Property[] } }
  | { kind: 'stringLiteral'; value: string };

interface Property {
  name: string;
  type: Type;
  optional?: boolean;
}

interface Structure {
  name: string;
  properties: Property[];
  extends?: Type[];
  mixins?: Type[];
}

interface Enumeration {
  name: string;
  type: Type;
  values: { value: string | number }[];
  supportsCustomValues?: boolean;
}

type Direction = 'clientToServer' | 'serverToClient' | 'both';

export interface RequestModel {
  method: string;
  messageDirection: Direction;
  params?: Type;
  result: Type;
  partialResult?: Type;
}

interface NotificationModel {
  method: string;
  messageDirection: Direction;
  params?: Type;
}

interface Model {
  requests: RequestModel[];
  notifications: NotificationModel[];
  structures: Structure[];
  enumerations: Enumeration[];
  typeAliases: { name: string; type: Type }[];
}

const model = JSON.parse(readFileSync(new URL('lsp-metaModel.json', import.meta.url), 'utf8')) as Model;

const byName = <T extends { name: string }>(list: T[]) => new Map(list.map((one) => [one.name, one]));
const byMethod = <T extends { method: string }>(list: T[]) => new Map(list.map((one) => [one.method, one]));
const structures = byName(model.structures);
const enumerations = byName(model.enumerations);
const aliases = byName(model.typeAliases);
export const requests: ReadonlyMap<string, RequestModel> = byMethod(model.requests);
const notifications = byMethod(model.notifications);

export type Side = 'client' | 'server';

/** Problems of the parameters of a request or notification that a side has sent. */
export function checkParams(method: string, params: unknown, from: Side): string[] {
  const message = requests.get(method) ?? notifications.get(method);
  if (!message) return [`${method}: the protocol knows no such message`];
  const direction: Direction = from === 'client' ? 'clientToServer' : 'serverToClient';
  const wrong = message.messageDirection !== 'both' && message.messageDirection !== direction;
  const way = wrong ? [`${method}: is not for the ${from} to send`] : [];
  if (!message.params)
    return params === undefined || params === null ? way : [...way, `${method}: takes no parameters`];
  return [...way, ...check(message.params, params, method)];
}

export function checkResult(method: string, result: unknown): string[] {
  const request = requests.get(method);
  return request
    ? check(request.result, result, `${method} result`)
    : [`${method}: the protocol knows no such request`];
}

/** What is sent bit by bit before a result. */
export function checkPartial(method: string, value: unknown): string[] {
  const type = requests.get(method)?.partialResult;
  return type ? check(type, value, `${method} part`) : [`${method}: has no partial results`];
}

export function checkStructure(name: string, value: unknown): string[] {
  return check({ kind: 'reference', name }, value, name);
}

function check(type: Type, value: unknown, at: string): string[] {
  switch (type.kind) {
    case 'base':
      return isBase(type.name, value) ? [] : [`${at}: ${shown(value)} is no ${type.name}`];
    case 'stringLiteral':
      return value === type.value ? [] : [`${at}: ${shown(value)} is not "${type.value}"`];
    case 'array':
      if (!Array.isArray(value)) return [`${at}: ${shown(value)} is no list`];
      return value.flatMap((one, i) => check(type.element, one, `${at}[${i}]`));
    case 'tuple':
      if (!Array.isArray(value) || value.length !== type.items.length)
        return [`${at}: ${shown(value)} has not ${type.items.length} items`];
      return type.items.flatMap((one, i) => check(one, value[i], `${at}[${i}]`));
    case 'map':
      if (!isObject(value)) return [`${at}: ${shown(value)} is no object`];
      return Object.entries(value).flatMap(([key, one]) => [
        ...checkKey(type.key, key, at),
        ...check(type.value, one, `${at}.${key}`),
      ]);
    case 'or': {
      const tries = type.items.map((one) => check(one, value, at));
      return tries.some((problems) => problems.length === 0) ? [] : nearest(tries);
    }
    case 'and': {
      if (!isObject(value)) return [`${at}: ${shown(value)} is no object`];
      return checkProperties(type.items.flatMap(propertiesOf), value, at);
    }
    case 'literal':
      return isObject(value)
        ? checkProperties(type.value.properties, value, at)
        : [`${at}: ${shown(value)} is no object`];
    case 'reference':
      return checkReference(type.name, value, at);
  }
}

function checkReference(name: string, value: unknown, at: string): string[] {
  if (name === 'LSPAny') return value === undefined ? [`${at}: is missing`] : [];
  const alias = aliases.get(name);
  if (alias) return check(alias.type, value, at);
  const enumeration = enumerations.get(name);
  if (enumeration) {
    const known = enumeration.values.some((one) => one.value === value);
    if (known) return [];
    const free = enumeration.supportsCustomValues && check(enumeration.type, value, at).length === 0;
    return free ? [] : [`${at}: ${shown(value)} is no ${name}`];
  }
  const structure = structures.get(name);
  if (!structure) return [`${at}: the model names ${name} and does not have it`];
  return isObject(value)
    ? checkProperties(propertiesOf({ kind: 'reference', name }), value, at)
    : [`${at}: ${shown(value)} is no ${name}`];
}

function propertiesOf(type: Type): Property[] {
  if (type.kind === 'literal') return type.value.properties;
  if (type.kind !== 'reference') return [];
  const alias = aliases.get(type.name);
  if (alias) return propertiesOf(alias.type);
  const structure = structures.get(type.name);
  if (!structure) return [];
  const more = [...(structure.extends ?? []), ...(structure.mixins ?? [])].flatMap(propertiesOf);
  // A structure's own words count before those it takes over.
  const own = new Set(structure.properties.map((property) => property.name));
  return [...structure.properties, ...more.filter((property) => !own.has(property.name))];
}

function checkProperties(
  properties: readonly Property[],
  value: Record<string, unknown>,
  at: string,
): string[] {
  const problems: string[] = [];
  const known = new Set<string>();
  for (const { name, type, optional } of properties) {
    known.add(name);
    const one = value[name];
    if (one !== undefined) problems.push(...check(type, one, `${at}.${name}`));
    else if (!optional) problems.push(`${at}.${name}: is missing`);
  }
  for (const key of Object.keys(value))
    if (!known.has(key)) problems.push(`${at}.${key}: the model does not know it`);
  return problems;
}

function checkKey(type: Type, key: string, at: string): string[] {
  const isNumber = type.kind === 'base' && /integer|decimal/.test(type.name);
  return isNumber ? check(type, Number(key), at) : check(type, key, `${at} key`);
}

function isBase(name: string, value: unknown): boolean {
  switch (name) {
    case 'string':
      return typeof value === 'string';
    case 'URI':
    case 'DocumentUri':
      return typeof value === 'string' && /^[A-Za-z][A-Za-z0-9+.-]*:/.test(value);
    case 'integer':
      return Number.isInteger(value) && Math.abs(value as number) <= 2 ** 31;
    case 'uinteger':
      return Number.isInteger(value) && (value as number) >= 0 && (value as number) < 2 ** 31;
    case 'decimal':
      return typeof value === 'number';
    case 'boolean':
      return typeof value === 'boolean';
    case 'null':
      return value === null;
    default:
      return false;
  }
}

/** The problems of the alternative that was meant: the one that the fewest, and the deepest, problems speak against. */
function nearest(tries: readonly string[][]): string[] {
  const depth = (problems: readonly string[]) =>
    Math.max(...problems.map((one) => one.split(':')[0]!.length));
  return tries.reduce((best, one) => (depth(one) > depth(best) ? one : best));
}

function isObject(value: unknown): value is Record<string, unknown> {
  return value !== null && typeof value === 'object' && !Array.isArray(value);
}

function shown(value: unknown): string {
  const text = JSON.stringify(value) ?? 'nothing';
  return text.length > 60 ? `${text.slice(0, 60)}…` : text;
}
