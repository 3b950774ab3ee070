/** A thread that reads recordings: one path in, one answer out. */
import { answerAll } from '../threads.js';
import { probe, type Probe, type Unread } from './probe.js';

answerAll<string, Probe | Unread>(probe);
