#!/bin/sh
# test.sh BUILD - the house is as drawn, and the check fails on planted breaches.
set -u
build=$1
house=tests/house/house.sh
work=$build/house
rm -rf "$work"
mkdir -p "$work"

plain=$build
case $build in
*/asan | */coverage | */clang)
	# sanitizers and coverage add symbols of their own: only includes say something there
	plain=-
	;;
esac
if sh $house "$plain" >"$work/out"; then
	echo "ok the house is as drawn"
else
	cat "$work/out"
	echo "not ok the house is as drawn"
fi

# A copy of the tree with one line too many.
planted() { # name file line
	rm -rf "$work/tree"
	mkdir -p "$work/tree"
	cp -R src include "$work/tree/"
	printf '%s\n' "$3" >>"$work/tree/$2"
	if sh $house - "$work/tree" >"$work/out"; then
		echo "not ok a planted breach is found: $1"
	else
		echo "ok a planted breach is found: $1"
	fi
}
planted 'planning includes cli' src/planning/dates.h '#include "cli/session.h"'
planted 'reading includes writing' src/reading/reading.h '#include "writing/sheet.h"'
planted 'phenology includes base' src/phenology/heat.c '#include "base/day.h"'
planted 'libcsv outside reading' src/orchard/orchard.h '#include <csv.h>'
planted 'cJSON outside reading and json.c' src/planning/dates.h '#include <cjson/cJSON.h>'
planted 'a circle of includes' src/base/arena.h '#include "base/diag.h"'

# A copy of the archives with one object too many: a call that no include shows.
if [ "$plain" = - ]; then
	echo "skip planted calls: this build adds symbols of its own"
	exit 0
fi
planted_call() { # name room code
	rm -rf "$work/archives"
	mkdir -p "$work/archives"
	cp "$build"/*.a "$work/archives/"
	printf '%s\n' "$3" >"$work/planted.c"
	cc -c -o "$work/planted.o" "$work/planted.c"
	archive=$work/archives/$2.a
	[ "$2" = phenology ] && archive=$work/archives/libconetide-phenology.a
	ar r "$archive" "$work/planted.o" 2>/dev/null
	case $work in /*) archives=$work/archives ;; *) archives=$(pwd)/$work/archives ;; esac
	if sh $house "$archives" >"$work/out"; then
		echo "not ok a planted call is found: $1"
	else
		echo "ok a planted call is found: $1"
	fi
}
planted_call 'planning calls cli' planning 'void session_say(void); void planted(void) { session_say(); }'
planted_call 'writing calls reading' writing 'void read_table(void); void planted(void) { read_table(); }'
planted_call 'orchard asks the clock' orchard '#include <time.h>
long planted(void) { return (long)time(0); }'
planted_call 'phenology allocates' phenology '#include <stdlib.h>
void *planted(void) { return malloc(1); }'
planted_call 'planning prints' planning '#include <stdio.h>
void planted(void) { puts("x"); }'
planted_call 'reading leaves the program' reading '#include <stdlib.h>
void planted(void) { exit(1); }'
