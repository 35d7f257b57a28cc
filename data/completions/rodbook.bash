# Completion of rodbook's commands, options, runs and files for bash; what it offers rodbook says itself.

# Offers those lines of the input that begin with the word. Not by compgen -W, which carries out what
# is in them: names of runs are a book's.
_rodbook_offer()
{
	local line
	while IFS= read -r line; do
		[[ $line == "$1"* ]] && COMPREPLY+=("$line")
	done
}

_rodbook_files()
{
	mapfile -t -O "${#COMPREPLY[@]}" COMPREPLY < <(compgen -f -- "$1")
}

_rodbook_commands()
{
	rodbook help 2>/dev/null |
		awk '$1 == "rodbook" && $2 ~ /^[a-z|]+$/ { gsub(/[|]/, "\n", $2); print $2 }'
}

_rodbook()
{
	local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]}
	COMPREPLY=()
	if [ "$COMP_CWORD" -eq 1 ]; then
		_rodbook_offer "$word" < <(echo help; _rodbook_commands)
		_rodbook_files "$word"
	elif [ "$command" = help ]; then
		_rodbook_offer "$word" < <(echo words; _rodbook_commands)
	elif [ "${word#-}" != "$word" ]; then
		_rodbook_offer "$word" < <(rodbook help "$command" 2>/dev/null |
			sed -n '/^usage/,/^$/p' | grep -o -e '--[a-z-]*')
	elif [ "$COMP_CWORD" -ge 3 ] && [ -f "${COMP_WORDS[2]}" ]; then
		_rodbook_offer "$word" < <(rodbook runs "${COMP_WORDS[2]}" --csv 2>/dev/null |
			sed -n 's/^run,\([^",]*\),.*/\1/p')
		_rodbook_files "$word"
	else
		_rodbook_files "$word"
	fi
}
complete -o filenames -F _rodbook rodbook
