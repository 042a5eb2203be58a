/** Required work: what the rest of the product may use of it. */
export { analyse } from './analysis/analyse.ts';
export type { AnalysisCatalog, EntryKind, EntryProblem } from './analysis/model.ts';
export { check } from './check.ts';
export { CODES } from './codes.ts';
export { compile, type RuleSet } from './compile.ts';
export { heldFindings } from './findings.ts';
export { doingsOf, fillsOfOperation, fillsOfPart, type Priced, workLine } from './lines.ts';
export type * from './model.ts';
export { type Charge, type ConsentInput, consentProblems } from './papers/authorization.ts';
export { contentProblems } from './papers/contents.ts';
export { designationOf, disclosureProblems, type PromisedPlan } from './papers/disclosures.ts';
export { type Limit, limitOver, needsConsent } from './papers/limit.ts';
export type { Paper, PaperKind, PaperLine } from './papers/paper.ts';
export { planInForce } from './warranty.ts';
