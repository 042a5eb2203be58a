/** Add-on times: automatic by condition of the vehicle, or judged and named on the line with their evidence. */
import type { Adder, Operation } from '../../../schemas/kinds/labor.ts';
import type { OperationLine } from '../../../schemas/kinds/lines.ts';
import { type Amount, given } from './amount.ts';
import { applies, inWords } from './applies.ts';
import { type Context, report } from './context.ts';
import type { SaleLine } from './model.ts';

interface Adding {
  readonly id: string;
  readonly operation: Operation;
  readonly from: SaleLine & { readonly line: OperationLine };
}

/** Hours of each add-on of an operation that applies here. */
export function addersOf(context: Context, work: Adding): Amount[] {
  const named = new Set(work.from.line.adders);
  const hours: Amount[] = [];
  for (const id of Object.keys(work.operation.adders ?? {}).toSorted()) {
    const adder = work.operation.adders![id]!;
    const added = named.has(id) ? takenByName(context, work, id, adder) : takenByItself(context, work, adder);
    named.delete(id);
    if (!added) continue;
    hours.push(
      given(adder.name, adder.hours, {
        measure: 'hours',
        source: { kind: 'adder', id: `${work.id} ${id}` },
        note: adder.when ? inWords(adder.when) : (work.from.line.reason ?? 'named on the job'),
      }),
    );
  }
  if (named.size > 0) context.complete = false;
  return hours;
}

function takenByItself(context: Context, work: Adding, adder: Adder): boolean {
  if (adder.judged || !adder.when) return false;
  const answer = applies(context, adder.when);
  if (answer === 'unknown') askForDrive(context, work, adder);
  return answer === 'yes';
}

function takenByName(context: Context, work: Adding, id: string, adder: Adder): boolean {
  const { line, path } = work.from;
  const at = [...path, 'adders', line.adders!.indexOf(id)];
  const answer = adder.when ? applies(context, adder.when) : 'yes';
  if (answer === 'no') {
    report(
      context,
      'error',
      'adder-refused',
      at,
      `${adder.name} is for ${inWords(adder.when!)}, and this job is not: its ${adder.hours} h are not counted. Take it out, or correct the vehicle.`,
    );
    return false;
  }
  if (answer === 'unknown') askForDrive(context, work, adder);
  if (adder.judged && line.picture === undefined && line.reason === undefined) {
    report(
      context,
      'warning',
      'adder-without-evidence',
      at,
      `${adder.name} is a judgment worth ${adder.hours} h. Show it: give the line a picture, or say why in \`reason\`.`,
    );
  }
  return true;
}

function askForDrive(context: Context, work: Adding, adder: Adder): void {
  report(
    context,
    'information',
    'drive-not-said',
    work.from.path,
    `How the vehicle is driven decides whether ${adder.name} (${adder.hours} h) is added to ${work.operation.name}. Write \`drive\` under \`vehicle\`.`,
    { data: { needs: 'drive' } },
  );
}
