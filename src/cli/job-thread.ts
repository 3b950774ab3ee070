/** A thread of a batch: one job in, one result out. */
import { answerInTurn } from '../threads.js';
import { NOWHERE } from './io.js';
import { runJob, type Job, type JobResult } from './job.js';

answerInTurn<Job, JobResult>((job) => runJob(job, NOWHERE));
