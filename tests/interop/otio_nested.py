"""Random timelines built with opentimelineio's own classes, and where it says each clip is seen.

In:  {"seed": 1, "cases": 100, "folder": "…"}; case n is written as n.otio.
Out: for each case the clips that are seen, [name, record in, record out, source in], in record order.
"""
import json
import random
import sys

import opentimelineio as otio
from opentimelineio.opentime import RationalTime, TimeRange

given = json.load(sys.stdin)
dice = random.Random(given["seed"])
RATE = 25


def time_range(start, duration):
    return TimeRange(RationalTime(start, RATE), RationalTime(duration, RATE))


def composition(kind, depth):
    made = kind()
    for _ in range(dice.randint(1, 5)):
        made.append(child(depth))
    return made


def trim(item, first=0):
    if dice.random() < 0.5:
        length = int(item.duration().value)
        start = dice.randint(first, max(0, length - 1))
        item.source_range = time_range(start, dice.randint(1, max(1, length - start)))
    return item


def silent(kind):
    return otio.schema.Track(kind=kind, children=[otio.schema.Gap(source_range=time_range(0, dice.randint(1, 100)))])


def child(depth):
    what = dice.random()
    if depth < 3 and what < 0.2:
        return trim(composition(otio.schema.Track, depth + 1), -5)
    if depth < 3 and what < 0.35:
        stack = otio.schema.Stack()
        layers = [composition(otio.schema.Track, depth + 1)]
        # What lies beside the picture is not seen, but a stack is as long as its longest.
        if dice.random() < 0.3:
            layers.append(silent("Video"))
        if dice.random() < 0.3:
            layers.insert(dice.randint(0, 1), silent("Audio"))
        if dice.random() < 0.2:
            layers.insert(0, composition(otio.schema.Track, depth + 1))
            layers[0].enabled = False
        for layer in layers:
            stack.append(layer)
        return trim(stack, -5)
    if what < 0.5:
        return otio.schema.Gap(source_range=time_range(0, dice.randint(1, 20)))
    name = dice.choice("ABCD")
    whole = time_range(dice.randint(0, 1000), dice.randint(1, 50))
    reference = otio.schema.ExternalReference(f"file:///media/{name}.mov", whole)
    return otio.schema.Clip(name, reference, None if dice.random() < 0.3 else whole)


def seen(timeline):
    top = timeline.tracks
    found = []
    for clip in timeline.find_clips():
        place = clip.transformed_time_range(clip.trimmed_range(), top)
        start, end = place.start_time.value, place.end_time_exclusive().value
        above = clip.parent()
        shown = True
        while above is not top:
            shown = shown and above.enabled
            limits = above.transformed_time_range(above.trimmed_range(), top)
            start = max(start, limits.start_time.value)
            end = min(end, limits.end_time_exclusive().value)
            above = above.parent()
        if shown and end > start:
            source = clip.trimmed_range().start_time.value + start - place.start_time.value
            found.append([clip.name, start, end, source])
    return sorted(found, key=lambda clip: clip[1])


out = []
for number in range(given["cases"]):
    timeline = otio.schema.Timeline(f"case {number}")
    timeline.tracks.append(trim(composition(otio.schema.Track, 0)))
    otio.adapters.write_to_file(timeline, f"{given['folder']}/{number}.otio")
    out.append({"frames": timeline.duration().value, "seen": seen(timeline)})
json.dump(out, sys.stdout)
