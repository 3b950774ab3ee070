// What the least of converters costs, for startup.bench.mjs: no options, no checks, no messages, nothing that two lists could disagree
// about. It cuts the rows of a log at their commas, and writes a line and an object a row. Not a model of how to do it.
const { mkdirSync, readFileSync, renameSync, writeFileSync } = require('node:fs');

const [, , log, folder] = process.argv;

const two = (number) => (number < 10 ? `0${number}` : `${number}`);

/** 29.97 drop-frame: SMPTE ST 12-1. */
function frameOf(label) {
  const minutes = Number(label.slice(0, 2)) * 60 + Number(label.slice(3, 5));
  return (minutes * 60 + Number(label.slice(6, 8))) * 30 + Number(label.slice(9, 11)) - 2 * (minutes - Math.floor(minutes / 10));
}

function labelOf(frame) {
  const rest = frame % 17982;
  const counted = frame + 18 * Math.floor(frame / 17982) + (rest < 2 ? 0 : 2 * Math.floor((rest - 2) / 1798));
  return `${two(Math.floor(counted / 108000))}:${two(Math.floor(counted / 1800) % 60)}:${two(Math.floor(counted / 30) % 60)};${two(counted % 30)}`;
}

const time = (value) => ({ OTIO_SCHEMA: 'RationalTime.1', rate: 30000 / 1001, value });
const clip = (name, at, frames) => ({
  OTIO_SCHEMA: 'Clip.2', name, metadata: { linecut: { source: name } },
  source_range: { OTIO_SCHEMA: 'TimeRange.1', start_time: time(at), duration: time(frames) },
  media_references: { DEFAULT_MEDIA: { OTIO_SCHEMA: 'MissingReference.1', name } },
});

let edl = 'TITLE: bare\r\nFCM: DROP FRAME\r\n';
let chapters = '';
const clips = [];
let before;
for (const row of readFileSync(log, 'utf8').split('\n').slice(1)) {
  const [label, action, source, , , , note] = row.split(',');
  if (action === undefined) continue;
  const at = frameOf(label);
  if (action === 'marker') chapters += `${label} ${note}\n`;
  if (before !== undefined) {
    const points = [before.at, at, before.at - 971028, at - 971028].map(labelOf).join(' ');
    edl += `${String(clips.length + 1).padStart(3, '0')}  ${before.source.padEnd(8)} B     C        ${points}\r\n* FROM CLIP NAME: ${before.source}\r\n`;
    clips.push(clip(before.source, before.at, at - before.at));
  }
  before = { at, source: source || '1' };
}

mkdirSync(folder);
for (const [name, text] of [['bare.edl', edl], ['bare.otio', JSON.stringify({ OTIO_SCHEMA: 'Timeline.1', tracks: [clips] })], ['bare.chapters.txt', chapters]]) {
  writeFileSync(`${folder}/.${name}`, text);
  renameSync(`${folder}/.${name}`, `${folder}/${name}`);
}
