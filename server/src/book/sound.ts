/**
 * A quick look at a node: does it certainly hold to its declaration? Most entries of a large catalog do, and then
 * their value need not be made before somebody asks for it.
 */
import type { z } from 'zod';
import { isOptional } from '../../../schemas/declare.ts';
import { fieldsOf, isList, isObject, isRecord, isText } from '../../../schemas/walk.ts';
import type { MapNode, Node } from '../syntax/node.ts';

type Test = (node: Node) => boolean;

const UNSURE: Test = () => false;
const tests = new WeakMap<z.ZodType, Test>();

/** False when something is wrong, and also where only the full judgment can tell. */
export function isSound(schema: z.ZodType, node: Node): boolean {
  return testOf(schema)(node);
}

function testOf(schema: z.ZodType): Test {
  let test = tests.get(schema);
  if (!test) {
    test = makeTest(schema);
    tests.set(schema, test);
  }
  return test;
}

function makeTest(schema: z.ZodType): Test {
  if (schema.type === 'optional') return testOf((schema as z.ZodOptional).unwrap() as z.ZodType);
  if (isText(schema)) return textTest(schema);
  // Refinements need the value.
  if (schema.def.checks?.length) return UNSURE;
  if (isObject(schema)) return objectTest(schema);
  if (isRecord(schema)) {
    const key = schema.keyType as z.ZodType;
    const value = testOf(schema.valueType as z.ZodType);
    return (node) =>
      node.type === 'map' &&
      node.pairs.every((pair) => key.safeParse(pair.key.text).success && value(pair.value));
  }
  if (isList(schema)) {
    const item = testOf(schema.element as z.ZodType);
    return (node) => node.type === 'list' && node.items.every(item);
  }
  return UNSURE;
}

/** A catalog says the same few words again and again: those that were found good are remembered. */
const REMEMBERED = 500;

function textTest(schema: z.ZodType): Test {
  const good = new Set<string>();
  return (node) => {
    if (node.type !== 'scalar') return false;
    if (good.has(node.text)) return true;
    const { success } = schema.safeParse(node.text);
    if (success && good.size < REMEMBERED) good.add(node.text);
    return success;
  };
}

function objectTest(schema: z.ZodObject): Test {
  const fields = new Map([...fieldsOf(schema)].map(([key, field]) => [key, testOf(field.schema)]));
  const required = [...fieldsOf(schema).values()].filter((field) => !isOptional(field.schema));
  return (node) =>
    node.type === 'map' &&
    required.every(({ key }) => has(node, key)) &&
    node.pairs.every((pair) => fields.get(pair.key.text)?.(pair.value) ?? true);
}

function has(node: MapNode, key: string): boolean {
  return node.pairs.some((pair) => pair.key.text === key);
}
