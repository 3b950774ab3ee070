/** A thread that reads recordings: one path in, one answer out. */
import { answerInTurn } from '../threads.js';
import { probe, type Probe, type Unread } from './probe.js';

answerInTurn<string, Probe | Unread>(probe);
