/** The page of a diagnostic code, as Markdown. */
import { pageOf } from '../../estimate/codes.ts';

export function codePage(code: string): string | undefined {
  const page = pageOf(code);
  if (!page) return undefined;
  const { title, why, example, mend } = page;
  return `# ${title}\n\n\`${code}\`\n\n${why}\n\n## For example\n\n\`\`\`yaml\n${example}\n\`\`\`\n\n## To mend it\n\n${mend}\n`;
}
