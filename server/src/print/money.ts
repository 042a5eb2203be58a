export { type Printer, printerFor } from './locale.ts';
