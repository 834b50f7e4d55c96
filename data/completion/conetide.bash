# conetide.bash - completion for bash: asks the program what may stand next, and gives files where it says nothing.
_conetide() {
	local word IFS=$'\n'
	COMPREPLY=()
	for word in $(conetide --complete "${COMP_WORDS[@]:1:COMP_CWORD}" 2>/dev/null); do
		COMPREPLY+=("$(printf '%q' "$word")")
	done
}
complete -o default -F _conetide conetide
