"""What two libraries say of labels: `timecode` and opentimelineio.

In:  {"rate": "29.97", "num": 30000, "den": 1001, "drop": true, "frames": [0, 1, …]}
Out: for each frame [label of timecode, label of opentimelineio, frame of that label by timecode, … by opentimelineio]
"""
import json
import sys

from opentimelineio.opentime import RationalTime
from timecode import Timecode

given = json.load(sys.stdin)
rate = given["num"] / given["den"]
plain = not given["drop"]
counter = Timecode(given["rate"], frames=1, force_non_drop_frame=plain)
out = []
for frame in given["frames"]:
    # `timecode` counts from 1: its frame 1 has label zero.
    counter.frames = frame + 1
    theirs = str(counter)
    out.append(
        [
            theirs,
            RationalTime(frame, rate).to_timecode(rate, given["drop"]),
            counter.tc_to_frames(theirs) - 1,
            RationalTime.from_timecode(theirs, rate).value,
        ]
    )
json.dump(out, sys.stdout)
