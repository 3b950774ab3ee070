/** A thread that reads recordings: one path in, one answer out. */
import { parentPort } from 'node:worker_threads';
import { probe } from './probe.js';

parentPort?.on('message', (path: string) => {
  void probe(path).then((answer) => { parentPort?.postMessage(answer); });
});
