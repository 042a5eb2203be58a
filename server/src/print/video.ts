/** Marks in the recorded video of a job: chapters for a player, and links to a moment of it. */
import type { JobEstimate } from '../estimate/estimate.ts';

export interface Mark {
  readonly finding: string;
  readonly name: string;
  readonly seconds: number;
  /** As typed: `02:14`. */
  readonly time: string;
}

/** A moment of a video, or a stretch of it, as a media fragment (W3C): `walk.mp4#t=72` or `walk.mp4#t=72,125`. */
export function fragment(file: string, from: number, to?: number): string {
  return `${encodeURIComponent(file)}#t=${from}${to === undefined ? '' : `,${to}`}`;
}

/** When what is shown at a mark ends: at the next one. */
export function endOf(mark: Mark, marks: readonly Mark[]): number | undefined {
  return marks.find((one) => one.seconds > mark.seconds)?.seconds;
}

/** In the order of the video; what is not a time is left out. */
export function marksOf({ job }: Pick<JobEstimate, 'job'>, nameOf: (finding: string) => string): Mark[] {
  const marks = Object.entries(job.findings ?? {}).flatMap(([finding, written]): Mark[] => {
    const time = typeof written === 'object' ? written.video?.trim() : undefined;
    const seconds = time === undefined ? undefined : secondsOf(time);
    return time === undefined || seconds === undefined
      ? []
      : [{ finding, name: nameOf(finding), seconds, time }];
  });
  return marks.sort((a, b) => a.seconds - b.seconds);
}

/** `02:14`, `1:02:14` or `134`, in seconds. */
export function secondsOf(time: string): number | undefined {
  const match = /^(?:(?:(\d{1,2}):)?(\d{1,2}):)?(\d{1,5}(?:\.\d{1,3})?)$/.exec(time);
  if (!match) return undefined;
  const [, hours = '0', minutes = '0', seconds = '0'] = match;
  return Number(hours) * 3600 + Number(minutes) * 60 + Number(seconds);
}

/** The last chapter has no next one to end it; a player stops with the video. */
const LAST_CHAPTER = 600;

/** Chapters in WebVTT (W3C), one a finding. */
export function chapters(marks: readonly Mark[]): string {
  const cues = marks.map((mark, i) => {
    const end = endOf(mark, marks) ?? mark.seconds + LAST_CHAPTER;
    return `${i + 1}\n${timestamp(mark.seconds)} --> ${timestamp(end)}\n${cueText(mark.name)}\n`;
  });
  return ['WEBVTT', '', ...cues].join('\n');
}

function timestamp(seconds: number): string {
  const whole = Math.floor(seconds);
  const two = (value: number) => String(value).padStart(2, '0');
  const thousandths = String(Math.round((seconds - whole) * 1000)).padStart(3, '0');
  return `${two(Math.floor(whole / 3600))}:${two(Math.floor(whole / 60) % 60)}:${two(whole % 60)}.${thousandths}`;
}

/** A cue is one line, without what WebVTT reads as tags or as an arrow. */
function cueText(text: string): string {
  return text
    .replaceAll(/\s+/g, ' ')
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;');
}
