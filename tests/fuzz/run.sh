#!/bin/sh
# run.sh SECONDS FUZZER... - each fuzzer for so many seconds from its seeds in tests/fuzz/corpus.
#
# What it finds beyond the seeds, and inputs that fail, stay beside the fuzzer, under the build
# directory.  Ends with 1 when one fails.
set -u
seconds=$1
shift
failed=0
for fuzzer in "$@"; do
	name=$(basename "$fuzzer" _fuzz)
	found=$fuzzer.corpus
	log=$fuzzer.log
	mkdir -p "$found"
	case $fuzzer in /*) run=$fuzzer ;; *) run=./$fuzzer ;; esac
	dictionary=tests/fuzz/$name.dict
	words=
	[ -f "$dictionary" ] && words=-dict=$dictionary
	if "$run" -max_total_time="$seconds" -timeout=10 -rss_limit_mb=1024 -max_len=4096 \
		-print_final_stats=1 -artifact_prefix="$fuzzer." $words \
		"$found" "tests/fuzz/corpus/$name" >"$log" 2>&1; then
		runs=$(sed -n 's/^stat::number_of_executed_units: *//p' "$log")
		echo "ok fuzz $name: $runs inputs in $seconds s"
	else
		tail -n 30 "$log"
		echo "not ok fuzz $name: see $log"
		failed=1
	fi
done
exit $failed
