#!/bin/sh
# shipped.sh TABLE... - the tables as a C file that defines shipped_tables (shipped.h).
set -eu
echo '/* Made by src/cli/shipped.sh from data/defaults: do not edit. */'
echo '#include "cli/shipped.h"'
for table in "$@"; do
	name=$(basename "$table" .csv)
	echo "static const unsigned char ${name}_bytes[] = {"
	od -An -v -tu1 "$table" | sed 's/[0-9][0-9]*/&,/g'
	echo '};'
done
echo 'const struct shipped shipped_tables[] = {'
for table in "$@"; do
	name=$(basename "$table" .csv)
	echo "    {\"$name.csv\", ${name}_bytes, sizeof ${name}_bytes},"
done
echo '    {0, 0, 0},'
echo '};'
