"""Lists that the reference libraries write: timelines made with opentimelineio 0.18.1, written as EDLs by otio-cmx3600-adapter 1.0.0 and as
OTIO by the library itself; and what is true of each EDL, worked out from its columns with the timecode library 1.5.1.

In:  {"folder": path, "seeds": [n, …]}
Out: for each seed {"edl": path, "otio": path, "rate": "25", "spoilt": what or null, "lines": [{"line", "number", "mix": true, "source": frames,
     "record": frames, "gap": frames}, …]}; every third EDL is spoilt after it was written: an event is gone, or a source out-point moved.

`gap` is how far the record in-point lies after the record out-point of the event before (0 for a cut list without hole).
"""
import json
import random
import re
import sys

import opentimelineio as otio
from timecode import Timecode

RATES = {"24": 24, "25": 25, "30": 30}
EVENT = re.compile(r"^(\d+)\s+(\S+)\s+(\S+)\s+(\S+)\s+(?:(\d+)\s+)?(\S+) (\S+) (\S+) (\S+)\s*$")


def timeline(chance, rate, mixes):
    made = otio.schema.Timeline("Harbour Kitchen 14", global_start_time=otio.opentime.RationalTime(3600 * rate, rate))
    track = otio.schema.Track("V", kind="Video")
    made.tracks.append(track)
    for index in range(chance.randint(2, 8)):
        length = chance.randint(30, 200)
        start = otio.opentime.RationalTime(36000 * rate + chance.randint(0, 50000), rate)
        name = chance.choice(["Stage wide", "Close-up", "Overhead"])
        clip = otio.schema.Clip(
            name,
            otio.schema.ExternalReference(f"file:///media/{name}.mov", otio.opentime.TimeRange(otio.opentime.RationalTime(0, rate), otio.opentime.RationalTime(86400 * rate, rate))),
            otio.opentime.TimeRange(start, otio.opentime.RationalTime(length, rate)),
        )
        clip.metadata["cmx_3600"] = {"reel": name[:5].upper().replace(" ", "")}
        if mixes and index > 0 and chance.random() < 0.4:
            frames = otio.opentime.RationalTime(chance.randint(1, 12), rate)
            track.append(otio.schema.Transition("mix", "SMPTE_Dissolve", otio.opentime.RationalTime(0, rate), frames))
        track.append(clip)
    return made


def spoilt(chance, text, rate):
    lines = text.split("\n")
    events = [at for at, line in enumerate(lines) if EVENT.match(line) and EVENT.match(line)[5] is None and EVENT.match(line)[8] != EVENT.match(line)[9]]
    if len(events) < 3:
        return None, text
    at = events[chance.randint(1, len(events) - 2)]
    if chance.random() < 0.5:
        lines[at] = ""
        return "gone", "\n".join(lines)
    label = EVENT.match(lines[at])[7]
    moved = Timecode(RATES[rate], label) + chance.randint(1, 50)
    lines[at] = lines[at].replace(label, str(moved))
    return "moved", "\n".join(lines)


def true_of(text, rate):
    said = []
    out = None
    for line, content in enumerate(text.split("\n"), 1):
        parts = EVENT.match(content)
        if parts is None:
            continue
        frames = [Timecode(RATES[rate], label).frame_number for label in parts.groups()[5:9]]
        said.append(
            {
                "line": line,
                "number": int(parts[1]),
                "mix": parts[5] is not None,
                "source": frames[1] - frames[0],
                "record": frames[3] - frames[2],
                "gap": 0 if out is None else frames[2] - out,
            }
        )
        out = frames[3]
    return said


given = json.load(sys.stdin)
out = []
for seed in given["seeds"]:
    chance = random.Random(seed)
    rate = chance.choice(sorted(RATES))
    made = timeline(chance, RATES[rate], seed % 2 == 1)
    path = f"{given['folder']}/{seed}"
    otio.adapters.write_to_file(made, path + ".otio", "otio_json")
    edl = otio.adapters.write_to_string(made, "cmx_3600", rate=RATES[rate])
    what, edl = spoilt(chance, edl, rate) if seed % 3 == 0 else (None, edl)
    with open(path + ".edl", "w", encoding="utf-8", newline="\n") as file:
        file.write(edl)
    out.append({"edl": path + ".edl", "otio": path + ".otio", "rate": rate, "spoilt": what, "lines": true_of(edl, rate)})
json.dump(out, sys.stdout)
