#!/bin/sh
# scenario.sh BUILD [CASE...] - whole runs with exact expected outputs.
#
# A case is a folder of tests/scenario with `cmd` (shell, run in the repository's root; `conetide` is the
# program just built, $case the folder) and the expected `out`, `err` and `status` (absent: empty, 0).
# A file `slow` leaves a case out of sanitizer builds.
# ACCEPT=CASE renews one case's expected files; there is no way to renew all.
set -u
build=$1
shift
top=$(pwd)
work=$build/scenario
mkdir -p "$work/bin"
case $build in /*) program=$build/conetide ;; *) program=$top/$build/conetide ;; esac
ln -sf "$program" "$work/bin/conetide"
PATH=$top/$work/bin:$PATH
case $build in /*) PATH=$work/bin:$PATH ;; esac
export PATH
[ $# -gt 0 ] || set -- tests/scenario/*/
for case in "$@"; do
	case=${case%/}
	name=$(basename "$case")
	[ -f "$case/cmd" ] || continue
	case $build in *asan*) if [ -f "$case/slow" ]; then
		echo "skip scenario $name: minutes under sanitizers, and of nothing that others do not run"
		continue
	fi ;; esac
	got=$work/$name
	rm -rf "$got"
	mkdir -p "$got"
	export case got
	sh "$case/cmd" >"$got/out" 2>"$got/err" </dev/null
	echo $? >"$got/status"
	if [ "${ACCEPT:-}" = "$name" ]; then
		for file in out err status; do
			if [ -s "$got/$file" ] && ! { [ $file = status ] && [ "$(cat "$got/$file")" = 0 ]; }; then
				cp "$got/$file" "$case/$file"
			else
				rm -f "$case/$file"
			fi
		done
	fi
	wrong=
	for file in out err status; do
		expected=$case/$file
		if [ ! -f "$expected" ]; then
			expected=$work/nothing
			if [ $file = status ]; then echo 0 >"$expected"; else : >"$expected"; fi
		fi
		if ! cmp -s "$expected" "$got/$file"; then
			wrong="$wrong $file"
			diff -u "$expected" "$got/$file" | head -n 30
		fi
	done
	if [ -n "$wrong" ]; then
		echo "not ok scenario $name: differs in$wrong"
	else
		echo "ok scenario $name"
	fi
done
