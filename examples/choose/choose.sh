#!/bin/sh
# Three choices for an invented clinic. Run from the top of the source tree: sh examples/choose/choose.sh
# WARMSHEET names the program if it is not on the path.
set -e
warmsheet=${WARMSHEET:-warmsheet}

# Which entry of the library is meant?
"$warmsheet" choose --list thumb

# A night orthosis, drawn from a person's measures.
"$warmsheet" choose --condition carpal-tunnel --measures examples/choose/measures.toml

# A finger gutter known only by its area, two sheets side by side.
"$warmsheet" choose --condition mallet-finger --area "9 cm2" \
  --compare elastic-clear/1.6-solid --compare draping-white/1.6-micro --quiet
