"""What opentimelineio makes of our files.

In:  {"files": ["…/1.otio", …]}: each is read by the reference library, and written again by it beside it as `….otio.theirs`.
Out: for each file its start, duration, tracks, items and markers, as the library's own functions tell them.
"""
import json
import sys

import opentimelineio as otio


def time(value):
    return None if value is None else [value.value, value.rate]


def range_of(value):
    return None if value is None else [value.start_time.value, value.duration.value, value.duration.rate]


def media(clip):
    reference = clip.media_reference
    return {
        "schema": type(reference).__name__,
        "url": getattr(reference, "target_url", None),
        "available": range_of(reference.available_range),
    }


def item(child):
    metadata = child.metadata.get("cmx_3600", {})
    if isinstance(child, otio.schema.Transition):
        return {
            "schema": "Transition",
            "type": child.transition_type,
            "in": time(child.in_offset),
            "out": time(child.out_offset),
            "code": metadata.get("transition"),
        }
    told = {
        "schema": type(child).__name__,
        "name": child.name,
        "source": range_of(child.source_range),
        "visible": range_of(child.visible_range()),
        "record": range_of(child.range_in_parent()),
        "speed": [effect.time_scalar for effect in child.effects],
    }
    if isinstance(child, otio.schema.Clip):
        told.update(media=media(child), reel=metadata.get("reel"), comments=list(metadata.get("comments", [])))
    return told


def report(path):
    timeline = otio.adapters.read_from_file(path)
    with open(path + ".theirs", "w", encoding="utf-8") as file:
        file.write(otio.adapters.write_to_string(timeline, "otio_json"))
    rate = timeline.global_start_time.rate
    return {
        "name": timeline.name,
        "start": time(timeline.global_start_time),
        "duration": time(timeline.duration()),
        "clips": len(timeline.find_clips()),
        "markers": [[m.name, m.color, m.marked_range.start_time.value, m.marked_range.duration.value] for m in timeline.tracks.markers],
        "labels": [
            (timeline.global_start_time + child.range_in_parent().start_time).to_timecode(rate, None)
            for track in timeline.tracks
            if track.enabled and track.kind == "Video"
            for child in track
            if isinstance(child, otio.core.Item)
        ],
        "tracks": [
            {"name": track.name, "kind": track.kind, "enabled": track.enabled, "items": [item(child) for child in track]}
            for track in timeline.tracks
        ],
    }


given = json.load(sys.stdin)
json.dump([report(path) for path in given["files"]], sys.stdout)
