#!/bin/sh
# clocks_command.sh BUILD - clocks of `conetide heat` against dates worked out elsewhere, as a user would run it.
#
# Southern rules: ../shared/oracle/south_expected_dates.csv, 98 station-years of real weather from
# ../shared/opendata. Rules: longleaf pollen, Boyer 1972, Ecology 54(2): degree-hours F over 50 degF from
# 1 January reach 19009 - 89.26 X on day X of the year (degree-hours are 24 times degree-days), with a sine
# and, as a warning, with the daily mean; onset and peak of pine pollen, Wing 2019: 300 and 636 of daily
# maxima over 55 degF from 1 February; 580 and 940 over 37 degF from 17 January, round numbers for the base
# and start of Woodbridge, Bridgwater and Bramlett 1995.
#
# Chilling, then heat (the sequential model, Hanninen 1990, Acta For. Fenn. 213): chillforce_ka.csv, 12
# winters at Klein-Altendorf from 1 September, chilling 60 of the triangular rate, then 130 of the sigmoid;
# chill_forcing_models.csv, 99 winters at Griffin and Washington from 1 October, 40 days with a mean of at
# most 7.2 degC, then 150 degC day of daily means over 5; three of them chill too little. Parallel and
# alternating models are no clocks of the program: chill_oracle.c has them.
set -u
build=$1
shared=${SHARED:-../shared}
work=$build/clocks_command
rm -rf "$work"
mkdir -p "$work"
grafts='tag,selection,tree,grafted_on' selections='selection,species' trees='tree,site'

# A folder of one station: name, latitude, weather.
folder() {
	mkdir -p "$work/$1/weather"
	printf 'site,station,latitude\n%s,%s,%s\n' "$1" "$1" "$2" >"$work/$1/sites.csv"
	printf '%s\n' "$grafts" >"$work/$1/grafts.csv"
	printf '%s\n' "$selections" >"$work/$1/selections.csv"
	printf '%s\n' "$trees" >"$work/$1/trees.csv"
	# one day of Gainesville has its minimum above its maximum, which the program refuses: no day then
	cut -d, -f1-3 "$3" | sed 's/"//g; /^1967-12-15,27.8,/d' >"$work/$1/weather/$1.csv"
	cat >"$work/$1/program.json" <<-'J'
	{"clocks": {
	"mean-50f": {"curve": "average", "lower_f": 50, "start": "01-01"},
	"sequential-rates": {"counts": "sigmoid-forcing", "start": "09-01", "end_days": 366,
	"after_chilling": {"counts": "triangular-chilling", "need": 60, "start": "09-01"}},
	"sequential-days": {"curve": "average", "lower_c": 5, "start": "10-01", "end_days": 334,
	"after_chilling": {"counts": "chilling-days-up-to-7.2", "need": 40, "start": "10-01"}}}}
	J
}

# Sums of a clock: station, clock -> date,sum.
sums() {
	"$build/conetide" heat --format csv --digits 9 "$work/$1" "$1" --clock "$2" 2>>"$work/err" |
		tail -n +2 | cut -d, -f1,5
}

# Functions of awk: days of the year, and which season an autumn belongs to.
days='function leap(y) { return y % 4 == 0 && (y % 100 != 0 || y % 400 == 0) }
function doy(d, m, y) { y = substr(d, 1, 4) + 0; m = substr(d, 6, 2) + 0
	return substr("000031059090120151181212243273304334", 3 * m - 2, 3) + substr(d, 9, 2) + (m > 2 && leap(y)) }'

if [ ! -f "$shared/oracle/south_expected_dates.csv" ] || [ ! -f "$shared/opendata/south/tifton_ga_daily.csv" ]; then
	echo "skip southern rules through the heat command: the files are not there"
else
	: >"$work/got"
	while IFS='|' read -r station latitude file; do
		name=$(echo "$station" | tr -d ' ')
		folder "$name" "$latitude" "$shared/opendata/$file"
		{
			sums "$name" sine-50f | sed 's/^/boyer_sine,/'
			sums "$name" mean-50f | sed 's/^/boyer_mean,/'
			sums "$name" daily-maximum-55f | sed 's/^/dm55,/'
			sums "$name" sine-37f | sed 's/^/base37,/'
		} | awk -F, -v station="$station" "$days"'
		function reach(what, need, sum) {
			if (sum >= need - 1e-6 && sum > 0 && !((what, year) in done)) {
				done[what, year] = 1
				printf "%s,%d,%s,%d,%.2f\n", station, year, what, x, sum
			}
		}
		$3 != "" {
			year = substr($2, 1, 4); x = doy($2)
			if (x > 200 || ($1 == "dm55" && x < 32) || ($1 == "base37" && x < 17)) next # the sum of last spring
			if ($1 ~ /^boyer/) reach($1, 19009 - 89.26 * x, $3 * 1.8 * 24)
			else if ($1 == "dm55") { reach("dm55_300", 300, $3 * 1.8); reach("dm55_636", 636, $3 * 1.8) }
			else { reach("base37_580_sine", 580, $3 * 1.8); reach("base37_940_sine", 940, $3 * 1.8) }
		}' >>"$work/got"
	done <<-'S'
	Tifton GA|31.48|south/tifton_ga_daily.csv
	Griffin GA|33.262|south/griffin_ga_daily.csv
	Gainesville FL|29.63|south/gainesville_daily.csv
	Belle Mina AL|34.69|belle_mina/USC00010655_daily.csv
	S
	tr -d '\r' <"$shared/oracle/south_expected_dates.csv" | awk -F, -v got="$work/got" '
	BEGIN { while ((getline line < got) > 0) { split(line, c, ","); day[c[1], c[2], c[3]] = c[4]; sum[c[1], c[2], c[3]] = c[5] } }
	NR == 1 { for (i = 3; i <= NF; i++) title[i] = $i; next }
	{
		rows++
		for (i = 3; i <= NF; i++) {
			what = title[i]
			is_sum = sub(/_(fh|sum)$/, "", what)
			if (what == "boyer") what = "boyer_sine"
			sub(/_doy$/, "", what)
			found = is_sum ? sum[$1, $2, what] : day[$1, $2, what]
			checked++
			far = found - $i
			if (found == "" || far > 0.0101 || far < -0.0101) {
				wrong++
				if (wrong < 9) printf "%s %s %s: %s, expected %s\n", $1, $2, title[i], found, $i
			}
		}
	}
	END {
		printf "seen: southern rules, %d station-years, %d values\n", rows, checked
		if (wrong == 0 && rows == 98) print "ok southern rules through the heat command"
		else printf "not ok southern rules through the heat command: %d of %d values differ\n", wrong, checked
	}'
fi

# Sequential dates: station, clock, need, first month-day, file of year and expected day -> counted faults.
sequential() {
	sums "$1" "$2" | awk -F, -v need="$3" -v start="$4" -v expected="$5" -v name="$1" "$days"'
	BEGIN { while ((getline line < expected) > 0) { split(line, c, ","); want[c[1]] = c[2]; rows++ } }
	$2 != "" {
		year = substr($1, 1, 4) + (substr($1, 6) >= start)
		if ($2 >= need - 1e-6 && !(year in day)) day[year] = doy($1)
	}
	END {
		for (year in want) {
			if (want[year] == "") never++
			if (day[year] "" != want[year] "") { wrong++; printf "%s %d: %s, expected %s\n", name, year, day[year], want[year] }
		}
		printf "seen: chilling then heat at %s, %d winters, %d of them too warm\n", name, rows, never
		if (wrong == 0 && rows > 10) printf "ok chilling then heat through the heat command at %s\n", name
		else printf "not ok chilling then heat through the heat command at %s: %d of %d differ\n", name, wrong, rows
	}'
}

if [ ! -f "$shared/oracle/chillforce_ka.csv" ] || [ ! -f "$shared/opendata/klein_altendorf/ka_daily.csv" ]; then
	echo "skip chilling then heat at Klein-Altendorf: the files are not there"
else
	folder KleinAltendorf 50.4 "$shared/opendata/klein_altendorf/ka_daily.csv"
	tail -n +2 "$shared/oracle/chillforce_ka.csv" | cut -d, -f1,2 >"$work/ka"
	sequential KleinAltendorf sequential-rates 130 09-01 "$work/ka"
fi
if [ ! -f "$shared/oracle/chill_forcing_models.csv" ] || [ ! -f "$shared/opendata/washington/weather.csv" ]; then
	echo "skip chilling then heat at Griffin and Washington: the files are not there"
else
	folder Griffin 33.262 "$shared/opendata/south/griffin_ga_daily.csv"
	folder Washington 38.885 "$shared/opendata/washington/weather.csv"
	grep '^griffin_ga,' "$shared/oracle/chill_forcing_models.csv" | cut -d, -f2,4 >"$work/griffin"
	grep '^washingtondc,' "$shared/oracle/chill_forcing_models.csv" | cut -d, -f2,4 >"$work/washington"
	sequential Griffin sequential-days 150 10-01 "$work/griffin"
	sequential Washington sequential-days 150 10-01 "$work/washington"
fi
