#!/bin/sh
# house.sh BUILD [ROOT] - the drawing of docs/architecture.md as a test, by includes and by calls.
#
# BUILD holds the archives of a plain build; "-" checks includes alone. ROOT is the tree (default .).
# Each breach is a line; status 1 when there is any.
set -u
build=$1
cd "${2:-.}" || exit 1
temporary=$(mktemp -d)
trap 'rm -rf "$temporary"' EXIT
breaches=$temporary/breaches
: >"$breaches"

# The arrows. `conetide` are the public headers of phenology.
cat >"$temporary/allowed" <<'END'
phenology conetide
orchard phenology base conetide
planning orchard phenology solving base conetide
reading orchard phenology base conetide
writing planning orchard phenology base conetide
cli reading writing planning orchard solving phenology base conetide
END
arrows='
	function arrow(from, to) { return from == to || (from, to) in may }
	FILENAME == allowed { for (i = 2; i <= NF; i++) may[$1, $i] = 1; next }
'

# By includes: every quoted or library include of every file but the tests.
find src include/conetide -name '*.[ch]' ! -name '*_test.c' ! -name 'test.h' | sort >"$temporary/files"
xargs grep -H '^#include' <"$temporary/files" |
	sed -n -e 's/^\([^:]*\):#include "\([^"]*\)".*/\1 \2 quoted/p' -e 's/^\([^:]*\):#include <\([^>]*\)>.*/\1 \2 library/p' >"$temporary/includes"
awk -v allowed="$temporary/allowed" "$arrows"'
	{
		n = split($1, part, "/"); room = part[n - 1]
		split($2, target, "/"); to = target[1]
	}
	$3 == "quoted" && !arrow(room, to) { print $1 ": the arrow " room " -> " to " is not in the drawing" }
	$2 == "csv.h" && room != "reading" { print $1 ": libcsv is used in reading alone" }
	to == "cjson" && room != "reading" && $1 != "src/writing/json.c" { print $1 ": cJSON is used in reading and in json.c of writing alone" }
' "$temporary/allowed" "$temporary/includes" >>"$breaches"

# No circle among files by includes.
awk '$3 == "quoted" && $2 !~ /^conetide/ {
	from = $1; sub(/^src\//, "", from)
	print from, $2
}' "$temporary/includes" >"$temporary/pairs"
tsort "$temporary/pairs" >/dev/null 2>"$temporary/circle" ||
	echo "includes run in a circle: $(sed -e '/loop/d' -e 's/^tsort: //' "$temporary/circle" | tr '\n' ' ')" >>"$breaches"

if [ "$build" != - ]; then
	for room in phenology solving base orchard planning reading writing cli; do
		archive=$build/$room.a
		[ "$room" = phenology ] && archive=$build/libconetide-phenology.a
		[ -f "$archive" ] || continue
		# lines `archive:object: [address] kind symbol`
		nm -A -g "$archive" 2>/dev/null | awk -v room="$room" '{
			n = split($1, part, ":"); object = part[n - 1] == "" ? part[n] : part[n - 1]
			if ($(NF - 1) == "U") print "needs", room, object, $NF
			else print "has", room, object, $NF
		}'
	done >"$temporary/symbols"

	# Calls between rooms, and what a room asks of the system.
	awk -v allowed="$temporary/allowed" "$arrows"'
		$1 == "has" { home[$4] = $2 }
		{ line[++lines] = $0 }
		END {
			for (i = 1; i <= lines; i++) {
				split(line[i], f, " ")
				if (f[1] != "needs") continue
				where = f[2] "/" f[3]; symbol = f[4]
				if (symbol in home) {
					if (!arrow(f[2], home[symbol])) print where ": calls " symbol " of " home[symbol] ", an arrow that is not in the drawing"
					continue
				}
				if (f[2] == "phenology" || f[2] == "solving") {
					if (symbol !~ /^(sqrt|atan|atan2|acos|asin|cos|sin|sincos|tan|exp|log|log1p|expm1|pow|erf|erfc|lgamma|lgamma_r|floor|ceil|fabs|fmod|lround|lrint|hypot|fmin|fmax|nan|mem[a-z]*|__assert_fail|__stack_chk_fail|_GLOBAL_OFFSET_TABLE_)$/)
						print where ": needs " symbol ", and " f[2] " calls nothing but libm, mem* and assert"
				} else if (f[2] != "cli") {
					if (symbol ~ /^(malloc|calloc|realloc|free|abort)$/ && where != "base/arena.o")
						print where ": needs " symbol ", which belongs to base/arena.c alone"
					if (symbol ~ /^(time|clock|clock_gettime|gettimeofday|localtime.*|gmtime.*|mktime|strftime)$/)
						print where ": asks the clock (" symbol "); only cli does"
					if (symbol ~ /^(getenv|secure_getenv|setenv|setlocale)$/)
						print where ": asks the environment (" symbol "); only cli does"
					if (symbol ~ /^(stdin|stdout|stderr|printf|puts|putchar|fprintf|fputs|fwrite|fopen|fread|open|read|write|perror|__printf_chk|__fprintf_chk)$/)
						print where ": reads or writes (" symbol "); only cli does"
					if (symbol ~ /^(exit|_exit|quick_exit)$/)
						print where ": leaves the program (" symbol "); only cli does"
					if (symbol ~ /^(strcpy|strcat|sprintf|gets|strtok|atoi|atof|rand|srand)$/)
						print where ": " symbol " is not used in this house"
				}
			}
		}
	' "$temporary/allowed" "$temporary/symbols" >>"$breaches"

	# No circle among objects by calls. The tables of commands and of file tables point at their rows, which is how a table
	# dispatches: data, not calls.
	awk '$1 == "has" { home[$4] = $2 "/" $3 }
		{ line[++lines] = $0 }
		END {
			for (i = 1; i <= lines; i++) {
				split(line[i], f, " ")
				from = f[2] "/" f[3]
				if (f[1] == "needs" && f[4] in home && home[f[4]] != from && f[4] !~ /^command_|_table$/) print from, home[f[4]]
			}
		}' "$temporary/symbols" | sort -u >"$temporary/pairs"
	tsort "$temporary/pairs" >/dev/null 2>"$temporary/circle" ||
		echo "calls run in a circle: $(sed -e '/loop/d' -e 's/^tsort: //' "$temporary/circle" | tr '\n' ' ')" >>"$breaches"
fi

if [ -s "$breaches" ]; then
	cat "$breaches"
	echo "house: $(wc -l <"$breaches") breaches"
	exit 1
fi
echo "house: every arrow stands in the drawing"
