import type { Figures } from './figures.ts';

/** What a job runs into that it did not before. */
export function crossingsOf({
  before,
  after,
}: {
  readonly before: Figures;
  readonly after: Figures;
}): string[] {
  return [
    ...(after.overAuthorized && !before.overAuthorized ? ['over what is authorized'] : []),
    ...(after.belowProfitFloor && !before.belowProfitFloor ? ['gross profit under its floor'] : []),
    ...(after.belowRateFloor && !before.belowRateFloor ? ['labor rate under its floor'] : []),
    ...(before.complete && !after.complete ? ['something has no price any more'] : []),
  ];
}
