#!/bin/sh
# house.sh BUILD [ROOT] - the drawing of docs/architecture.md as a test, by includes and by calls.
#
# BUILD holds the archives of a plain build; "-" checks includes alone. ROOT is the tree (default .).
# Each breach is a line; status 1 when there is any.
set -u
build=$1
cd "${2:-.}" || exit 1
breaches=0
temporary=$(mktemp -d)
trap 'rm -rf "$temporary"' EXIT

breach() {
	echo "$*"
	breaches=$((breaches + 1))
}

# The arrows.  `conetide` are the public headers of phenology.
allowed='
phenology: conetide
solving:
base:
orchard: phenology base conetide
planning: orchard phenology solving base conetide
reading: orchard phenology base conetide
writing: planning orchard phenology base conetide
cli: reading writing planning orchard solving phenology base conetide
conetide:
'
rooms='phenology solving base orchard planning reading writing cli'

may() {
	printf '%s\n' "$allowed" | sed -n "s/^$1: *//p"
}

arrow() { # from to: is it in the drawing?
	[ "$1" = "$2" ] && return 0
	case " $(may "$1") " in *" $2 "*) return 0 ;; esac
	return 1
}

# By includes.
for file in src/*/*.[ch] include/conetide/*.h; do
	[ -f "$file" ] || continue
	case $file in *_test.c) continue ;; esac
	room=$(basename "$(dirname "$file")")
	for to in $(sed -n 's/^#include "\([a-z_]*\)\/.*/\1/p' "$file" | sort -u); do
		arrow "$room" "$to" || breach "$file: the arrow $room -> $to is not in the drawing"
	done
	if grep -q '#include <csv\.h>' "$file" && [ "$room" != reading ]; then
		breach "$file: libcsv is used in reading alone"
	fi
	if grep -q '#include <cjson/' "$file"; then
		case $file in src/reading/* | src/writing/json.c) ;; *) breach "$file: cJSON is used in reading and in writing's json.c alone" ;; esac
	fi
done

# No circle among modules, by includes: a module is a .c with its .h.
for file in src/*/*.[ch]; do
	[ -f "$file" ] || continue
	case $file in *_test.c) continue ;; esac
	module=${file#src/}
	module=${module%.[ch]}
	sed -n 's/^#include "\(.*\)\.h".*/\1/p' "$file" | while read -r to; do
		[ "$to" = "$module" ] || echo "$module $to"
	done
done >"$temporary/includes"
if ! tsort "$temporary/includes" >/dev/null 2>"$temporary/circle"; then
	breach "includes run in a circle: $(grep -v 'loop' "$temporary/circle" | sed 's/^tsort: //' | tr '\n' ' ')"
fi

if [ "$build" != - ]; then
	# What each room defines and what it needs.
	for room in $rooms; do
		archive=$build/$room.a
		[ "$room" = phenology ] && archive=$build/libconetide-phenology.a
		[ -f "$archive" ] || continue
		nm -g --defined-only "$archive" 2>/dev/null | awk -v room="$room" 'NF == 3 { print $3, room }'
	done | sort -u >"$temporary/defined"
	for room in $rooms; do
		archive=$build/$room.a
		[ "$room" = phenology ] && archive=$build/libconetide-phenology.a
		[ -f "$archive" ] || continue
		nm -A -g -u "$archive" 2>/dev/null |
			awk -v room="$room" '{ n = split($1, part, ":"); print $NF, room, part[n - 1] ? part[n - 1] : part[1] }'
	done | sort -u >"$temporary/needed"

	join "$temporary/needed" "$temporary/defined" | awk '$2 != $4 { print $2, $4, $1, $3 }' |
		sort -u >"$temporary/calls"
	while read -r from to symbol object; do
		arrow "$from" "$to" || breach "$from/$object: calls $symbol of $to, an arrow that is not in the drawing"
	done <"$temporary/calls"

	# What a room may ask of the system.
	join -v 1 "$temporary/needed" "$temporary/defined" >"$temporary/system"
	while read -r symbol room object; do
		case $room in
		phenology | solving)
			case $symbol in
			sqrt | atan | atan2 | acos | asin | cos | sin | tan | exp | log | log1p | expm1 | pow | erf | erfc | floor | ceil | fabs | fmod | lround | lrint | hypot | fmin | fmax | nan | mem*) ;;
			__assert_fail | __stack_chk_fail | _GLOBAL_OFFSET_TABLE_) ;;
			*) breach "$room/$object: needs $symbol, and $room calls nothing but libm, mem* and assert" ;;
			esac
			;;
		cli) ;;
		*)
			case $symbol in
			malloc | calloc | realloc | free)
				case $room/$object in
				base/arena.o) ;;
				*) breach "$room/$object: needs $symbol, and memory comes from base/arena.c alone" ;;
				esac
				;;
			time | clock | clock_gettime | gettimeofday | localtime* | gmtime* | mktime | strftime) breach "$room/$object: asks the clock ($symbol); only cli does" ;;
			getenv | secure_getenv | setenv | setlocale) breach "$room/$object: asks the environment ($symbol); only cli does" ;;
			stdin | stdout | stderr | printf | puts | putchar | fprintf | fputs | fwrite | fopen | fread | open | read | write | perror | __printf_chk | __fprintf_chk) breach "$room/$object: reads or writes ($symbol); only cli does" ;;
			exit | _exit | quick_exit) breach "$room/$object: leaves the program ($symbol); only cli does" ;;
			abort)
				[ "$room/$object" = base/arena.o ] || breach "$room/$object: leaves the program ($symbol); only cli does"
				;;
			strcpy | strcat | sprintf | gets | strtok | atoi | atof | rand | srand) breach "$room/$object: $symbol is not used in this house" ;;
			esac
			;;
		esac
	done <"$temporary/system"

	# No circle among objects, by calls.
	for object in "$build"/phenology/*.o "$build"/solving/*.o "$build"/base/*.o "$build"/orchard/*.o \
		"$build"/planning/*.o "$build"/reading/*.o "$build"/writing/*.o "$build"/cli/*.o; do
		[ -f "$object" ] || continue
		case $object in *_test.o) continue ;; esac
		name=${object#"$build"/}
		nm -g --defined-only "$object" | awk -v name="$name" 'NF == 3 { print $3, name }' >>"$temporary/objects_define"
		nm -g -u "$object" | awk -v name="$name" '{ print $NF, name }' >>"$temporary/objects_need"
	done
	if [ -f "$temporary/objects_need" ]; then
		sort -u -o "$temporary/objects_define" "$temporary/objects_define"
		sort -u -o "$temporary/objects_need" "$temporary/objects_need"
		# command tables point at commands, which is how a table dispatches: data, not calls
		join "$temporary/objects_need" "$temporary/objects_define" |
			awk '$2 != $3 && $1 !~ /^command_/ { print $2, $3 }' | sort -u >"$temporary/object_calls"
		if ! tsort "$temporary/object_calls" >/dev/null 2>"$temporary/circle"; then
			breach "calls run in a circle: $(grep -v 'loop' "$temporary/circle" | sed 's/^tsort: //' | tr '\n' ' ')"
		fi
	fi
fi

if [ "$breaches" -gt 0 ]; then
	echo "house: $breaches breaches"
	exit 1
fi
echo "house: every arrow stands in the drawing"
