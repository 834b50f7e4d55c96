#!/bin/sh
# docs.sh BUILD - the examples of README.md and docs/*.md are run and compared.
#
# A fenced block that opens with ```console holds `$ command` lines, each followed by what it prints.
set -u
build=$1
top=$(pwd)
work=$build/docs
rm -rf "$work"
mkdir -p "$work/bin"
case $build in /*) ;; *) build=$top/$build work=$top/$work ;; esac
ln -sf "$build/conetide" "$work/bin/conetide"
PATH=$work/bin:$PATH
export PATH
for page in README.md DEVELOPERS.md docs/*.md; do
	[ -f "$page" ] || continue
	name=$(basename "$page" .md)
	awk -v stem="$work/$name" '
		/^```console$/ { inside = 1; next }
		/^```/ { if (inside) { inside = 0; if (n) close(stem "." n ".out") } next }
		inside && /^\$ / {
			n++
			print substr($0, 3) > (stem "." n ".cmd")
			printf "" > (stem "." n ".out")
			print FNR > (stem "." n ".line")
			next
		}
		inside && n { print > (stem "." n ".out") }
	' "$page"
	for command in "$work/$name".*.cmd; do
		[ -f "$command" ] || continue
		stem=${command%.cmd}
		sh "$command" >"$stem.got" 2>&1 </dev/null
		if cmp -s "$stem.out" "$stem.got"; then
			echo "ok $page line $(cat "$stem.line")"
		else
			diff -u "$stem.out" "$stem.got" | head -n 20
			echo "not ok $page line $(cat "$stem.line"): $(cat "$command")"
		fi
	done
done
