/** How deep groups and lists may stand inside each other. Bounds the recursion of every reader of nodes. */
export const DEPTH_LIMIT = 64;
/** The longest text of one value that is read. */
export const VALUE_LIMIT = 65_536;
/** How many values all the `*name` repeats of one piece may unfold to. */
export const ALIAS_LIMIT = 10_000;
/** The longest piece the `yaml` package is given: it needs a tenth of a second for it, at worst a few seconds. */
export const FULL_LIMIT = 250_000;
/** Up to this size a file that uses `&name` and `*name` is read as one, so that they may point across it. */
export const WHOLE_LIMIT = FULL_LIMIT;
/** How many problems of one piece are reported: what comes after the first hundred is rarely news. */
export const PROBLEM_LIMIT = 100;
