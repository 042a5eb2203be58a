/** Everything the server can do. A feature is one row: what is advertised beside who answers. */
import type { Wire } from './wire.ts';
import { NAVIGATION } from './wires-navigation.ts';
import { STRUCTURE } from './wires-structure.ts';
import { WRITING } from './wires-writing.ts';

export const WIRES: readonly Wire[] = [...NAVIGATION, ...STRUCTURE, ...WRITING];
