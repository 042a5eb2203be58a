/** The program of one helper of `checkAll`. */
import { parentPort, workerData } from 'node:worker_threads';
import { reports } from './check.ts';
import type { ToHelper } from './check-all.ts';
import { openBook } from './open.ts';

const { path, ...share } = workerData as ToHelper;
parentPort?.postMessage(reports(openBook(path), share));
