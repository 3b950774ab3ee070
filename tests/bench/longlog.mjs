// A long log: cuts, every tenth a dissolve, every 25th row a marker; the same bytes for the same number of rows.
import { closeSync, openSync, writeSync } from 'node:fs';

const two = (value) => String(value).padStart(2, '0');

function label(frame) {
  const labels = frame % 2_592_000;
  return `${two(Math.floor(labels / 108_000))}:${two(Math.floor(labels / 1800) % 60)}:${two(Math.floor(labels / 30) % 60)}:${two(labels % 30)}`;
}

/** Writes `rows` rows at 30 frames a second. */
export function writeLongLog(path, rows) {
  const file = openSync(path, 'w');
  let at = 0;
  let text = `time,action,source,duration,note\n${label(0)},start,,,\n`;
  for (let index = 0; index < rows - 2; index += 1) {
    const source = (index % 4) + 1;
    if (index % 10 === 9) text += `${label(at)},dissolve,${source},12,\n`;
    else if (index % 25 === 7) text += `${label(at)},marker,,,Step ${index}\n`;
    else text += `${label(at)},cut,${source},,\n`;
    at += 20 + ((index * 7) % 40);
    if (text.length > 1_000_000) {
      writeSync(file, text);
      text = '';
    }
  }
  writeSync(file, `${text}${label(at)},stop,,,\n`);
  closeSync(file);
}
