/** A thread of a batch: one job in, one result out. */
import { parentPort } from 'node:worker_threads';
import { NOWHERE } from './io.js';
import { runJob, type Job } from './job.js';

parentPort?.on('message', (job: Job) => {
  void runJob(job, NOWHERE).then((result) => { parentPort?.postMessage(result); });
});
