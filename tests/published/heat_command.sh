#!/bin/sh
# heat_command.sh BUILD - `conetide heat` against reference values, as a user would feed it.
#
# Each row of ../shared/oracle/degree_days.csv (curve x cut-off by numerical integration) becomes a
# weather file of two days; the first day's heat units must agree to 1e-9. Skipped when the file is not
# there. Two rows are expected to differ, by name: half a day flat at exactly the upper threshold counts
# under `vertical`, which cuts what is above it; the integral's rounding put those temperatures above.
set -u
build=$1
oracle=${SHARED:-../shared}/oracle/degree_days.csv
if [ ! -f "$oracle" ]; then
	echo "skip heat command against degree_days.csv: the file is not there"
	exit 0
fi
work=$build/heat_command
rm -rf "$work"
mkdir -p "$work"
tail -n +2 "$oracle" | tr -d '\r' >"$work/rows"
rows=0 wrong=0
: >"$work/flat"
while IFS=, read -r tmin tmax next lower upper curve cutoff expected; do
	rows=$((rows + 1))
	printf 'date,tmin_c,tmax_c\n2027-03-01,%s,%s\n2027-03-02,%s,50\n' "$tmin" "$tmax" "$next" >"$work/day.csv"
	case $curve,$cutoff in
	double-*,vertical)
		expected=$(awk -v n="$next" -v x="$tmax" -v l="$lower" -v u="$upper" -v e="$expected" \
			'BEGIN { if (n == x && x == u) { e += (u - l) / 2; print "flat" > "/dev/stderr" } printf "%.9f", e }' 2>>"$work/flat")
		;;
	esac
	set -- heat --format csv --digits 9 --curve "$curve" --cutoff "$cutoff" --lower "$lower"
	[ -z "$upper" ] || set -- "$@" --upper "$upper"
	got=$("$build/conetide" "$@" "$work/day.csv" 2>"$work/err" | sed -n 2p | cut -d, -f4)
	if ! awk -v a="$got" -v b="$expected" 'BEGIN { d = a - b; if (d < 0) d = -d; exit !(a != "" && d <= 1.001e-9) }'; then
		wrong=$((wrong + 1))
		[ "$wrong" -le 5 ] && echo "row $rows: $tmin,$tmax,$next,$lower,$upper,$curve,$cutoff gives '$got', expected $expected"
	fi
done <"$work/rows"
echo "seen: heat command, $rows rows of degree_days.csv"
if [ "$wrong" -eq 0 ] && [ "$rows" -ge 1000 ] && [ "$(wc -l <"$work/flat")" -le 2 ]; then
	echo "ok heat command agrees with degree_days.csv"
else
	echo "not ok heat command agrees with degree_days.csv: $wrong of $rows rows differ"
fi
