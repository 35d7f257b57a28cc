# Completion of rodbook's commands, options and files for bash; what it offers rodbook says itself. It opens no
# book: that may bring an older one up to this version.

# Offers those lines of the input that begin with the word. Not by compgen -W, which carries out what
# is in them.
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
	else
		_rodbook_files "$word"
	fi
}
complete -o filenames -F _rodbook rodbook
