#!/usr/bin/env bash
# Checks every show of this project, and makes its drawings and lists: let your server run it for each change.
# It does nothing until something calls it: `bash .ci/check.sh`. rigdsl must be installed where it runs.
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")/.."

rigdsl check --keep-known
for show in shows/*.rig; do
  grep -q '^rig ' "$show" || continue  # a library: it is in the shows that use it
  rigdsl draw "$show" --out made/
  rigdsl papers "$show" --out made/
done
