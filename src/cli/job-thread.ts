/** A thread of a batch: jobs in, a result out for each. */
import { answerAll } from '../threads.js';
import { NOWHERE } from './io.js';
import { runJob, type Job, type JobResult } from './job.js';

answerAll<Job, JobResult>((job) => runJob(job, NOWHERE));
