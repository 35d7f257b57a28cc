# Completion of rodbook's commands, options, runs and files for bash; what it offers rodbook says itself.
_rodbook()
{
	local word=${COMP_WORDS[COMP_CWORD]} command=${COMP_WORDS[1]}
	COMPREPLY=()
	if [ "$COMP_CWORD" -eq 1 ]; then
		mapfile -t COMPREPLY < <(compgen -W "help $(rodbook help 2>/dev/null |
			awk '$1 == "rodbook" && $2 ~ /^[a-z|]+$/ { gsub(/[|]/, " ", $2); print $2 }')" -- "$word"
			compgen -f -- "$word")
	elif [ "$command" = help ]; then
		mapfile -t COMPREPLY < <(compgen -W "words $(rodbook help 2>/dev/null |
			awk '$1 == "rodbook" && $2 ~ /^[a-z|]+$/ { gsub(/[|]/, " ", $2); print $2 }')" -- "$word")
	elif [ "${word#-}" != "$word" ]; then
		mapfile -t COMPREPLY < <(compgen -W "$(rodbook help "$command" 2>/dev/null |
			sed -n '/^usage/,/^$/p' | grep -o -e '--[a-z-]*')" -- "$word")
	elif [ "$COMP_CWORD" -ge 3 ] && [ -f "${COMP_WORDS[2]}" ]; then
		local IFS=$'\n'
		mapfile -t COMPREPLY < <(compgen -W "$(rodbook runs "${COMP_WORDS[2]}" --csv 2>/dev/null |
			sed -n 's/^run,\([^,]*\),.*/\1/p')" -- "$word"; compgen -f -- "$word")
	else
		mapfile -t COMPREPLY < <(compgen -f -- "$word")
	fi
}
complete -o filenames -F _rodbook rodbook
