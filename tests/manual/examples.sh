#!/bin/sh
# Plays the examples of a manual page: each command behind "$ ", in order, in a folder of its own, and
# compares what it prints with the lines below it. Files shown by `cat` are made of those lines. A line
# "..." stands for whatever follows, and so do three dots at the end of the last line. Comments of the page, .\" clock TIME, set the clock.
#
#	examples.sh PROGRAM PAGE
set -eu

program=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
page=$(cd "$(dirname "$2")" && pwd)/$(basename "$2")
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
mkdir "$folder/bin"
ln -s "$program" "$folder/bin/rodbook"
PATH=$folder/bin:$PATH
export PATH
cd "$folder"

# The literal blocks of EXAMPLES, plain, a line "%clock TIME" for each clock and "%end" for each end. The
# displayed lines of COMMANDS that begin with "$ " are examples without their output, "%run" each.
awk '
/^\.Sh / { commands = /^\.Sh COMMANDS/ }
commands && /^\.Dl \$ / {
	sub(/^\.Dl \$ /, "%run ")
	gsub(/\\-/, "-"); gsub(/\\\(dq/, "\""); gsub(/\\e/, "\\")
	print
	next
}
/^\.Sh / { on = /^\.Sh EXAMPLES/ }
!on { next }
/^\.\\" clock / { print "%clock " $3; next }
/^\.Bd -literal/ { literal = 1; next }
/^\.Ed/ { if (literal) print "%end"; literal = 0; next }
literal { gsub(/\\-/, "-"); gsub(/\\e/, "\\"); gsub(/\\&/, ""); print }
' "$page" >blocks

command=
count=0
failed=0
: >expected

# Runs the command that was read, now that its expected lines are known.
run() {
	if [ -z "$command" ]; then
		return
	fi
	count=$((count + 1))
	case $command in
	'cat '*)
		cp expected "${command#cat }"
		;;
	*)
		eval "$command" >got 2>&1 || true
		if [ "$(tail -n 1 expected | tr -d ' ')" = ... ]; then
			lines=$(($(wc -l <expected) - 1))
			head -n "$lines" expected >wanted
			head -n "$lines" got >shown
		elif tail -n 1 expected | grep -q '\.\.\.$'; then
			sed '$s/\.\.\.$//' expected >wanted
			lines=$(wc -l <expected)
			width=$(tail -n 1 wanted | tr -d '\n' | wc -c)
			head -n "$lines" got | sed "\$s/^\(.\{$width\}\).*/\1/" >shown
		else
			cp expected wanted
			cp got shown
		fi
		if ! diff wanted shown; then
			echo "the manual differs (<) from what is printed (>): $command"
			failed=1
		fi
		;;
	esac
	command=
	: >expected
}

while IFS= read -r line; do
	case $line in
	'%clock '*)
		run
		RODBOOK_CLOCK=${line#%clock }
		export RODBOOK_CLOCK
		;;
	%end) run ;;
	'%run '*)
		run
		count=$((count + 1))
		eval "${line#%run }" >got 2>&1 || [ $? -eq 1 ] || {
			echo "this example of the manual does not work: ${line#%run }"
			cat got
			failed=1
		}
		;;
	"\$ "*)
		run
		command=${line#??}
		while [ "${command%\\}" != "$command" ]; do
			IFS= read -r line
			command=${command%\\}$line
		done
		;;
	*) printf '%s\n' "$line" >>expected ;;
	esac
done <blocks
echo "$count examples"
[ "$count" -gt 0 ] && [ "$failed" -eq 0 ]
