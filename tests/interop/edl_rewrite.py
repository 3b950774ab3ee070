"""Our EDLs read by otio-cmx3600-adapter and written again by it, in its own way of writing.

In:  {"cases": [{"file": path, "rate": 29.97…}, …]}
Out: {"texts": the text of each, "late": what the library calls frame 4,144,797 at 47.952}.
"""
import json
import sys

import opentimelineio as otio

out = []
for given in json.load(sys.stdin)["cases"]:
    with open(given["file"], encoding="ascii", newline="") as file:
        timeline = otio.adapters.read_from_string(file.read(), "cmx_3600", rate=given["rate"])
    for clip in timeline.find_clips():
        clip.media_reference = otio.schema.ExternalReference(target_url=f"media/{clip.metadata['cmx_3600']['reel']}.mov")
        marker = otio.schema.Marker(name="Lid off", color="GREEN")
        marker.marked_range = otio.opentime.TimeRange(clip.source_range.start_time, otio.opentime.RationalTime(0, given["rate"]))
        clip.markers.append(marker)
    out.append(otio.adapters.write_to_string(timeline, "cmx_3600", rate=given["rate"]))
late = otio.opentime.RationalTime(4144797, 48000 / 1001)
json.dump({"texts": out, "late": otio.opentime.to_timecode(late, late.rate)}, sys.stdout)
