"""What two libraries read in our EDLs: otio-cmx3600-adapter (into opentimelineio) and pycmx.

In:  {"cases": [{"files": [path, …], "rate": 29.97…, "adapter": true, "pycmx": true}, …]}; several files are the parts of one list.
Out: for each case {"adapter": {track name: [clip, …]} or {"error": "…"} or null, "pycmx": {…} or null}.

Clips and events that go on from the one before (`* CONTINUED`) are joined again to what they were before the list was divided.
"""
import io
import json
import sys

import opentimelineio as otio
import pycmx

SCHEMA = otio.schema


def clips(track):
    # The adapter puts the first record point of a track, negative, into its source_range.
    zero = -track.source_range.start_time.value if track.source_range else 0
    out = []
    for child in track:
        if not isinstance(child, SCHEMA.Clip):
            continue
        head = track.neighbors_of(child)[0]
        mix = head if isinstance(head, SCHEMA.Transition) else None
        place = child.range_in_parent()
        edl = child.metadata.get("cmx_3600", {})
        black = isinstance(child.media_reference, SCHEMA.GeneratorReference)
        start = child.source_range.start_time.value
        out.append(
            {
                "reel": "BL" if black else edl.get("reel", "AX"),
                "name": child.name,
                "source": [start, start + child.source_range.duration.value],
                "record": [zero + place.start_time.value, zero + place.end_time_exclusive().value],
                "speed": [effect.time_scalar for effect in child.effects],
                "mix": None if mix is None else [mix.metadata["cmx_3600"]["transition"], mix.in_offset.value, mix.out_offset.value],
                "continued": "CONTINUED" in list(edl.get("comments", [])),
            }
        )
    return out


def adapter(texts, rate):
    tracks = {}
    for text in texts:
        timeline = otio.adapters.read_from_string(text, "cmx_3600", rate=rate)
        for track in timeline.tracks:
            known = tracks.setdefault(track.name, [])
            for clip in clips(track):
                if clip.pop("continued") and known:
                    known[-1]["source"][1] += clip["source"][1] - clip["source"][0]
                    known[-1]["record"][1] = clip["record"][1]
                else:
                    known.append(clip)
    return tracks


def edit_of(edit):
    channels = edit.channels
    mix = edit.transition
    return {
        "reel": edit.source,
        "channels": [channels.video] + [channels.get_audio_channel(number) for number in (1, 2, 3, 4)],
        "kind": mix.kind,
        "wipe": mix.wipe_number if mix.wipe else None,
        "frames": mix.effect_duration if mix.operand else 0,
        "points": [edit.source_in, edit.source_out, edit.record_in, edit.record_out],
        "name": edit.clip_name,
        "file": edit.source_file,
    }


def cmx(texts):
    titles, numbers, events, unknown, formats = [], [], [], [], []
    for text in texts:
        edl = pycmx.parse_cmx3600(io.StringIO(text))
        titles.append(edl.title)
        formats.append(edl.format)
        unknown += [statement.content for statement in edl.unrecognized_statements]
        numbers.append([event.number for event in edl.events])
        for event in edl.events:
            edits = [edit_of(edit) for edit in event.edits]
            remarks = [statement.text for statement in event.statements if type(statement).__name__ == "StmtRemark"]
            if "CONTINUED" in remarks:
                same = next(known for known in reversed(events) if known[-1]["channels"] == edits[-1]["channels"])
                assert same[-1]["reel"] == edits[-1]["reel"] and same[-1]["points"][3] == edits[-1]["points"][2]
                same[-1]["points"] = [same[-1]["points"][0], edits[-1]["points"][1], same[-1]["points"][2], edits[-1]["points"][3]]
            else:
                events.append(edits)
    return {"titles": titles, "formats": formats, "numbers": numbers, "events": events, "unknown": unknown}


out = []
for given in json.load(sys.stdin)["cases"]:
    texts = []
    for path in given["files"]:
        with open(path, encoding="ascii", newline="") as file:
            texts.append(file.read())
    answer = {"adapter": None, "pycmx": None}
    if given.get("adapter"):
        try:
            answer["adapter"] = adapter(texts, given["rate"])
        except Exception as error:  # told, and judged on the other side
            answer["adapter"] = {"error": f"{type(error).__name__}: {error}"}
    if given.get("pycmx"):
        answer["pycmx"] = cmx(texts)
    out.append(answer)
json.dump(out, sys.stdout)
