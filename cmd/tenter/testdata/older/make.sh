#!/bin/sh
# make.sh PROGRAM FOLDER: the invented records of a village theatre, as that program
# keeps them. A released layout gets a folder of its own here, made once with the
# program of its day and never again; older_test.go opens each with the program of today.
set -e
t=$1; d=$2
rm -rf "$d"; mkdir -p "$d"
export XDG_CONFIG_HOME="$d/config" XDG_CACHE_HOME="$d/cache" XDG_STATE_HOME="$d/state" XDG_DATA_HOME="$d/data"
run() { "$t" "$@" >/dev/null; }
run note add cowl "cut it a hand longer for the third witch"
run favourite add wool-felt
run swatch add "mayor's gold" --sold-as "cotton sateen" --width 140cm --length 2.5m --colour gold --lightness mid --kept "box 4" --price "12.50 per metre" --bought 2026-09-01
run swatch add "Crêpe of the widow" --content "60% silk 40% viscose" --notes "one hole by the selvedge"
run swatch add "cellar remnant" --sold-as denim --width 44in
run swatch measure "mayor's gold" mass 1.52g 1.49g 1.55g --square 10x10cm --date 2026-09-02
run swatch measure "mayor's gold" droop warp right 3.4cm 3.5cm wrong 3.6cm weft 3.0cm 3.1cm --date 2026-09-02
run swatch measure "cellar remnant" wash warp 25cm:24.1cm weft 25cm:24.6cm --method "machine, 40 C" --date 2026-09-03
run swatch edit "cellar remnant" --kept "under the stage"
run wear add "mayor's gold" --piece half-circle-cape --finish bagged-lining --verdict "too stiff after all"
run rule silence lining-frays-clip-after-joining --because "ours are bound by hand"
cat >> "$d/config/tenter/house.toml" <<'TOML'

[[rule]]
id       = "gold-cloth-is-brushed-before-the-curtain"
when.shell.fibre = "cotton"
when.shell.mass  = "over 100 g/m2"
effect   = "caution"
say      = "Brush the nap of the cloth down before the curtain."
because  = "The lamps stand low and show every mark."
basis    = "practice"
sources  = ["own"]
fires    = ["shell denim"]
quiet    = ["shell silk-chiffon"]
TOML
run rule check "$d/config/tenter/house.toml"
run swatch export "$d/swatches.csv"
run swatch export "$d/swatches.json"
cp "$d/data/tenter/tenter.db" "$d/tenter.db" # the export notes itself down
run store export "$d/records.json"
mv "$d/config/tenter/house.toml" "$d/house.toml"
rm -rf "$d/cache" "$d/state" "$d/data" "$d/config"
