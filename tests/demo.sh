#!/bin/sh
# demo.sh PROGRAM FOLDER - the main job on the demo folder, as a breeder would run it.
set -eu
conetide=$1
folder=$2
as_of=2027-03-02
show() {
	printf '\n$ conetide %s\n' "$*"
	"$conetide" "$@"
}
show check "$folder"
show grafting --as-of $as_of --format text "$folder"
show flowering --as-of $as_of --format text "$folder" | head -n 60
show crossing --as-of $as_of --format text "$folder" | head -n 60
show crossing --as-of $as_of --shortfalls --format text "$folder"
show worklist --as-of $as_of --week 2027-W10 "$folder"
printf '\nAll of it again as files: %s/demo\n' "$(dirname "$conetide")"
out=$(dirname "$conetide")/demo
mkdir -p "$out"
for command in grafting flowering crossing; do
	"$conetide" $command --as-of $as_of --format csv --out "$out/$command.csv" "$folder"
done
"$conetide" crossing --shortfalls --as-of $as_of --format csv --out "$out/shortfalls.csv" "$folder"
"$conetide" worklist --as-of $as_of --week 2027-W10 --format html --out "$out/worklist.html" "$folder"
"$conetide" worklist --as-of $as_of --week 2027-W10 --format text --out "$out/worklist.txt" "$folder"
ls "$out"
