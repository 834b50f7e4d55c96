# manual.awk - docs/tables.md as conetide-tables(5), in mdoc.
function plain(text) {
	gsub(/\*\*/, "", text)
	while (match(text, /\[[^]]*\]\([^)]*\)/)) {
		link = substr(text, RSTART, RLENGTH)
		sub(/^\[/, "", link)
		sub(/\]\(.*$/, "", link)
		text = substr(text, 1, RSTART - 1) link substr(text, RSTART + RLENGTH)
	}
	gsub(/\\\|/, "|", text)
	gsub(/`/, "", text)
	gsub(/\\/, "\\e", text)
	gsub(/-/, "\\-", text)
	gsub(/~/, "\\(ti", text)
	gsub(/\^/, "\\(ha", text)
	return text
}
function put(line) {
	if (line ~ /^[.']/)
		line = "\\&" line
	print line
}
# Bytes of the line once other letters than ASCII are spelled out.
function bytes(line) {
	return length(line) + 4 * gsub(/[\200-\377]/, "", line)
}
# Running text, a sentence a line, lines of at most 78 bytes.
function words(text,    n, i, part, line) {
	n = split(plain(text), part, /[ \t]+/)
	line = ""
	for (i = 1; i <= n; i++) {
		if (part[i] == "")
			continue
		if (line != "" && bytes(line) + 1 + bytes(part[i]) > 78) {
			put(line)
			line = ""
		}
		line = line (line == "" ? "" : " ") part[i]
		if (part[i] ~ /[.!?:][)"']?$/) {
			put(line)
			line = ""
		}
	}
	if (line != "")
		put(line)
}
function flush() {
	if (text != "") {
		if (started)
			print ".Pp"
		words(text)
		started = 1
	}
	text = ""
}
function close_list() {
	flush_item()
	if (list)
		print ".El"
	list = 0
}
function flush_item() {
	if (item != "")
		words(item)
	item = ""
}
function cells(row,    n, i) {
	gsub(/\\\|/, "\001", row)
	sub(/^\| */, "", row)
	sub(/ *\|$/, "", row)
	n = split(row, cell, / *\| */)
	for (i = 1; i <= n; i++)
		gsub(/\001/, "|", cell[i])
	return n
}
BEGIN {
	print ".Dd November 25, 2026\n.Dt CONETIDE-TABLES 5\n.Os\n.Sh NAME\n.Nm conetide-tables"
	print ".Nd tables of a programme folder of conetide"
}
/^# / { print ".Sh DESCRIPTION"; next }
/^```/ {
	flush(); close_list()
	code = !code
	print code ? ".Bd -literal -offset indent" : ".Ed"
	next
}
code { gsub(/\\/, "\\e"); put($0); next }
/^##/ {
	flush(); close_list()
	heading = $0
	sub(/^#+ */, "", heading)
	print ($0 ~ /^###/ ? ".Ss " : ".Sh ") "\"" plain(heading) "\""
	started = 0
	next
}
/^\| *---/ { next }
/^\|/ {
	flush()
	n = cells($0)
	if (!table) {
		close_list()
		split("", head)
		for (i = 1; i <= n; i++)
			head[i] = cell[i]
		print ".Bl -tag -width Ds"
		list = table = 1
		next
	}
	print ".It \"" plain(cell[1]) "\""
	for (i = 2; i <= n; i++)
		if (cell[i] != "")
			words((i == 2 && n == 2 ? "" : head[i] ": ") cell[i] (cell[i] ~ /\.$/ ? "" : "."))
	next
}
table { close_list(); table = 0 }
/^- / {
	flush()
	if (!list)
		print ".Bl -bullet"
	list = 1
	flush_item()
	print ".It"
	item = substr($0, 3)
	next
}
/^$/ { flush(); close_list(); next }
list { sub(/^ +/, ""); item = item " " $0; next }
{ text = text " " $0 }
END { flush(); close_list(); print ".Sh SEE ALSO\n.Xr conetide 1 ,\n.Xr conetide-check 1" }
