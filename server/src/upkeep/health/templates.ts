/** Templates that a job could not take as they are. */
import type { Template } from '../../../../schemas/kinds/template.ts';
import type { Estimates } from '../../estimate/estimates.ts';
import { unfold } from '../../estimate/unfold.ts';
import { plural } from '../report/report.ts';
import { sketchOf } from '../what-if/sketch.ts';
import { type Finding, findingOn } from './finding.ts';

export function* brokenTemplates(estimates: Estimates): Generator<Finding> {
  const { book } = estimates;
  for (const definition of book.registry.all('template')) {
    const { file } = definition.facts;
    const template = file.value as Partial<Template>;
    const told = book.problemsOf(file).filter(({ problem }) => problem.severity === 'error');
    const messages = told.map(({ problem }) => problem.message);
    const sketch = sketchOf(estimates, template);
    if ('job' in sketch) {
      const catalog = estimates.catalogFor(file.uri);
      const { problems } = unfold(sketch.job.lines ?? [], (i) => ['lines', i], catalog);
      messages.push(...problems.map(({ message }) => message));
    }
    const [first, ...more] = new Set(messages);
    if (first === undefined) continue;
    const says = more.length > 0 ? `${first} (and ${plural(more.length, 'more problem')})` : first;
    yield { ...findingOn('broken-template', definition, says), name: template.name ?? '' };
  }
}
