#!/bin/sh
# What mandoc has to say of the pages, but for other pages that are not installed here; and that rodbook.1
# has each command of data/commands.txt with its sentence and its example, within 500 lines.
#
#	lint.sh FOLDER
set -eu
cd "$1"
if command -v mandoc >/dev/null; then
	said=$(mandoc -T lint ./*.[157] 2>&1 | grep -v 'referenced manual not found\|mandoc.db' || true)
	if [ -n "$said" ]; then
		echo "$said"
		exit 1
	fi
else
	echo "left out: mandoc is not here"
fi
sed 's/\\-/-/g; s/\\(dq/"/g' rodbook.1 | tr '\n' ' ' >/tmp/plain.$$
trap 'rm -f /tmp/plain.$$' EXIT
grep -v '^#' ../data/commands.txt | while IFS='|' read -r name does example; do
	grep -qF -e "$does" /tmp/plain.$$ || {
		echo "rodbook.1 says something else of $name than: $does"
		exit 1
	}
	grep -qF -e ".Dl \$ $example" /tmp/plain.$$ || {
		echo "rodbook.1 lacks the example of $name: $example"
		exit 1
	}
done
[ "$(wc -l <rodbook.1)" -le 500 ]
