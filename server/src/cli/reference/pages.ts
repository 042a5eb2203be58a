/** The reference, page by page: fields, diagnostic codes, commands of the terminal, the editor. */
import type { Command } from 'commander';
import { KINDS } from '../../../../schemas/index.ts';
import { pages as codePages } from '../../estimate/codes.ts';
import { program } from '../program.ts';
import { fieldPages, fileOf } from './fields.ts';
import { code, fence, link, page, prose, table } from './markdown.ts';

/** What the editor's manifest says; texts in `%...%` are looked up in `words`. */
export interface Manifest {
  readonly contributes: {
    readonly commands: readonly { readonly command: string; readonly title: string }[];
    readonly keybindings: readonly {
      readonly command: string;
      readonly key: string;
      readonly mac?: string;
    }[];
    readonly configuration: {
      readonly properties: Readonly<
        Record<
          string,
          {
            readonly default: unknown;
            readonly markdownDescription: string;
            readonly enum?: readonly string[];
            readonly enumDescriptions?: readonly string[];
          }
        >
      >;
    };
  };
}

/** Every page by its file name. */
export function referencePages(
  manifest: Manifest,
  words: Readonly<Record<string, string>>,
): Map<string, string> {
  return new Map([
    ['README.md', index()],
    ...fieldPages(),
    ['codes.md', codes()],
    ['commands.md', commands(program)],
    ['editor.md', editor(manifest, (text) => words[/^%(.+)%$/.exec(text)?.[1] ?? ''] ?? text)],
  ]);
}

function index(): string {
  return page(
    'Reference',
    'Everything that can be written in a shop book, everything that can be wrong with it, and everything that can be asked of it.',
    table(
      ['Kind of file', 'Usual name', 'What it is'],
      KINDS.map((kind) => [
        link(kind.title, fileOf(kind)),
        code(kind.suffix.startsWith('.') ? `*${kind.suffix}` : kind.suffix),
        prose(kind.description),
      ]),
    ),
    [
      `- ${link('Diagnostic codes', 'codes.md')}: what each means and how to mend it`,
      `- ${link('Commands', 'commands.md')} of the terminal`,
      `- ${link('The editor', 'editor.md')}: commands, keys and settings`,
      `- ${link('JSON Schemas', '../json')} of every kind of file, for editors that know only those`,
    ].join('\n'),
  );
}

function codes(): string {
  const all = codePages();
  return page(
    'Diagnostic codes',
    `What the editor and ${code('gearquill check')} say, with the code in brackets. ${code('gearquill explain CODE')} prints the same.`,
    table(
      ['Code', 'In short'],
      all.map((one) => [link(one.code, `#${one.code}`), prose(one.title)]),
    ),
    ...all.flatMap((one) => [
      `## ${one.code}`,
      `**${prose(one.title)}.** ${prose(one.why)}`,
      fence(one.example),
      `To mend it: ${prose(one.mend)}`,
    ]),
  );
}

function commands(root: Command): string {
  return page(
    'Commands',
    prose(root.description()),
    `Each is called as ${code('npm run -s gearquill -- COMMAND')} here, or ${code('gearquill COMMAND')} once installed. The exit status is 0 when all is well, 1 when what was asked for did not come out, 2 when it was asked for wrongly.`,
    ...root.commands.flatMap((one) => [
      `## ${one.name()}`,
      `${sentence(one.description())}`,
      fence(`gearquill ${one.name()} ${one.usage()}`, 'text'),
      one.registeredArguments.length > 0
        ? table(
            ['Argument', 'What it is', 'When left out'],
            one.registeredArguments.map((argument) => [
              code(argument.name()),
              prose(argument.description ?? ''),
              argument.defaultValue === undefined ? '' : code(String(argument.defaultValue)),
            ]),
          )
        : undefined,
      one.options.length > 0
        ? table(
            ['Option', 'What it does', 'When left out'],
            one.options.map((option) => [
              code(option.flags),
              prose(option.description),
              option.defaultValue === undefined || option.defaultValue === true
                ? ''
                : code(String(option.defaultValue)),
            ]),
          )
        : undefined,
    ]),
  );
}

function sentence(text: string): string {
  const plain = prose(text);
  return `${plain[0]?.toUpperCase() ?? ''}${plain.slice(1)}${/[.?!]$/.test(plain) ? '' : '.'}`;
}

function editor({ contributes }: Manifest, say: (text: string) => string): string {
  const { keybindings, configuration } = contributes;
  return page(
    'In the editor',
    '## Commands',
    table(
      ['Command', 'Key', 'Id'],
      contributes.commands.map(({ command, title }) => {
        const keys = keybindings.filter((one) => one.command === command).map((one) => code(one.key));
        return [prose(say(title)), keys.join(', '), code(command)];
      }),
    ),
    '## Settings',
    table(
      ['Setting', 'What it does', 'When left out'],
      Object.entries(configuration.properties).map(([name, setting]) => {
        const words = (setting.enum ?? []).map(
          (word, i) => `${code(word)}: ${prose(say(setting.enumDescriptions?.[i] ?? ''))}`,
        );
        return [
          code(name),
          [prose(say(setting.markdownDescription)), ...words].join(' '),
          code(JSON.stringify(setting.default)),
        ];
      }),
    ),
  );
}
