# say.sh - for scenarios: `say COMMAND...` shows a command, what it prints and its status.

say() {
	echo "\$ $*"
	"$@" 2>&1
	echo "status $?"
}
