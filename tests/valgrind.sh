#!/bin/sh
# valgrind.sh PROGRAM... - unit tests under valgrind: any error or leak fails.
set -u
passed=0 failed=0
for program in "$@"; do
	case $program in
	*/base/day_test) export CONETIDE_TEST_QUICK=1 ;; # every day of 9,999 years is slow here
	esac
	if valgrind --quiet --error-exitcode=99 --leak-check=full --errors-for-leak-kinds=definite \
		"$program" >"$program.valgrind" 2>&1; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "not ok $program"
		tail -n 20 "$program.valgrind"
	fi
done
echo "valgrind: $passed programs clean, $failed not"
[ "$failed" -eq 0 ] && [ "$passed" -gt 0 ]
