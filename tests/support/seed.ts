/**
 * Random lists and logs are the same in every run, so that a change is judged by what it changes and not by chance; the interop
 * suite holds to the same. Others come from another seed: `LINECUT_SEED=$RANDOM npm test`.
 */
import fc from 'fast-check';

fc.configureGlobal({ seed: Number(process.env['LINECUT_SEED'] ?? 20260) });
