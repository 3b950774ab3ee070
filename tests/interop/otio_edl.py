"""One list as our EDL and as our OTIO, both through the reference library, as events to be compared.

In:  {"cases": [{"edl": path, "otio": path, "rate": 29.97…}, …]}
     The adapter's timeline is written beside the EDL as "….edl.otio".
Out: for each case {"edl": tracks, "otio": tracks} or {"error": "…"}; a track is
     {"name", "events": [{"reel", "name", "source": [in, out], "record": [in, out], "mix": [type, frames, code] or null}]}.

An event begins where its mix begins, in record frames from label zero: that is how an EDL has it.
"""
import json
import sys

import opentimelineio as otio


def events(track, zero):
    items = [child for child in track if not isinstance(child, otio.schema.Transition)]
    told = []
    for index, item in enumerate(items):
        head = track.neighbors_of(item)[0]
        mix = head if isinstance(head, otio.schema.Transition) else None
        before = 0 if mix is None else mix.in_offset.value
        tail = track.neighbors_of(item)[1]
        after = tail.in_offset.value if isinstance(tail, otio.schema.Transition) else 0
        place = item.range_in_parent()
        edl = item.metadata.get("cmx_3600", {})
        black = isinstance(item, otio.schema.Gap) or isinstance(item.media_reference, otio.schema.GeneratorReference)
        start = item.source_range.start_time.value
        told.append(
            {
                "reel": "BL" if black else edl.get("reel"),
                "name": None if black else item.name,
                "source": [start - before, start + item.source_range.duration.value - after],
                "record": [zero + place.start_time.value - before, zero + place.end_time_exclusive().value - after],
                "mix": None
                if mix is None
                else [mix.transition_type, mix.in_offset.value + mix.out_offset.value, mix.metadata["cmx_3600"]["transition"]],
            }
        )
    return told


def tracks(timeline, zero):
    told = []
    for track in timeline.tracks:
        # The EDL adapter puts a track's first record point, negative, into its source_range.
        start = zero - (track.source_range.start_time.value if track.source_range else 0)
        told.append({"name": track.name, "events": events(track, start)})
    return sorted(told, key=lambda track: track["name"])


def case(given):
    with open(given["edl"], encoding="ascii") as file:
        edl = otio.adapters.read_from_string(file.read(), "cmx_3600", rate=given["rate"])
    otio.adapters.write_to_file(edl, given["edl"] + ".otio", "otio_json")
    ours = otio.adapters.read_from_file(given["otio"])
    return {"edl": tracks(edl, 0), "otio": tracks(ours, ours.global_start_time.value)}


out = []
for given in json.load(sys.stdin)["cases"]:
    try:
        out.append(case(given))
    except Exception as error:  # told, and failed on the other side
        out.append({"error": f"{type(error).__name__}: {error}"})
json.dump(out, sys.stdout)
