#!/bin/sh
# run.sh BUILD [unit|published|properties|scenario|docs|house] - run the tests and count them.
#
# Ends with `N passed, N failed, N skipped`; status 1 when anything failed or nothing ran.
set -u
build=$1
which=${2:-all}
log=$build/tests.log
passed=0 failed=0 skipped=0
: >"$log"

# Lines `ok name`, `not ok name`, `skip name` of standard input are counted; others are kept for the log.
count() {
	ok=$(grep -c '^ok ' "$1")
	skip=$(grep -c -e '^not ok .*# SKIP' -e '^skip ' "$1")
	bad=$(grep '^not ok ' "$1" | grep -vc '# SKIP')
	passed=$((passed + ok)) skipped=$((skipped + skip)) failed=$((failed + bad))
	cat "$1" >>"$log"
	if [ "$bad" -gt 0 ]; then
		grep -v '^ok ' "$1"
	fi
}

run_program() {
	out=$build/tests.one
	CMOCKA_MESSAGE_OUTPUT=TAP "$1" >"$out" 2>&1
	status=$?
	count "$out"
	grep '^seen: ' "$out"
	if [ "$status" -ne 0 ] && [ "$bad" -eq 0 ]; then
		failed=$((failed + 1))
		echo "not ok $1 ended with status $status"
		tail -n 30 "$out"
	elif [ "$((ok + skip + bad))" -eq 0 ]; then
		failed=$((failed + 1))
		echo "not ok $1 ran no test"
	fi
}

run_script() {
	run_with sh "$@"
}

run_with() { # interpreter script arguments...
	out=$build/tests.one
	"$@" >"$out" 2>&1
	status=$?
	count "$out"
	grep '^seen: ' "$out"
	if [ "$status" -ne 0 ] && [ "$bad" -eq 0 ]; then
		failed=$((failed + 1))
		echo "not ok $2 ended with status $status"
		tail -n 30 "$out"
	fi
}

wanted() {
	[ "$which" = all ] || [ "$which" = "$1" ]
}

wanted unit && for source in src/*/*_test.c; do
	[ -e "$source" ] && run_program "$build/$(dirname "${source#src/}")/$(basename "$source" .c)"
done
wanted published && for source in tests/published/*.c; do
	[ -e "$source" ] && run_program "$build/${source%.c}"
done
wanted published && for script in tests/published/*.sh; do
	[ -e "$script" ] && run_script "$script" "$build"
done
wanted properties && for source in tests/properties/*.c; do
	[ -e "$source" ] && run_program "$build/${source%.c}"
done
wanted properties && for script in tests/properties/*.py; do
	[ -e "$script" ] && run_with python3 "$script" "$build"
done
wanted scenario && run_script tests/scenario.sh "$build"
wanted docs && run_script tests/docs.sh "$build"
wanted house && run_script tests/house/test.sh "$build"

echo "$passed passed, $failed failed, $skipped skipped"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
