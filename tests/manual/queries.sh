#!/bin/sh
# Runs each query and each shell line of the page of the file format. Those that list what is forged,
# marked "(none", find nothing in honest books, also in one that an older program wrote and one that was
# imported; and each finds what was forged. The others find something.
#
#	queries.sh PROGRAM PAGE DATA OLD-BOOK.sql
set -eu

program=$(cd "$(dirname "$1")" && pwd)/$(basename "$1")
page=$(cd "$(dirname "$2")" && pwd)/$(basename "$2")
data=$(cd "$3" && pwd)
old=$4
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
failed=0

fail() {
	echo "$*"
	failed=1
}

# Each query in a file of its own, qN.sql, and what stands before it, qN.says; the digest in digest.sh.
awk '
function plain(text) { gsub(/\\-/, "-", text); gsub(/\\e/, "\\", text); return text }
/^\.Sh / { on = /^\.Sh EXAMPLES/ }
/^\.Bd -literal$/ { shell = 1; next }
/^\.Ed/ { shell = 0 }
shell && !on && !/^weir|^run,/ { print plain($0) >"digest.sh" }
!on { next }
/^\.Bd / { n++; literal = 1; printf "%s", words >("q" n ".says"); words = ""; next }
/^\.Ed/ { literal = 0; next }
literal { print plain($0) >("q" n ".sql"); next }
!/^\./ { words = words $0 "\n" }
' "$page"

"$data/demo-book" "$program" demo.rodbook
"$program" export demo.rodbook --whole -o whole.csv
"$program" new imported.rodbook >/dev/null
"$program" import imported.rodbook whole.csv >/dev/null
sqlite3 older.rodbook <"$old"
sqlite3 older.rodbook "PRAGMA application_id=1919902818; PRAGMA user_version=3"
"$program" runs older.rodbook >/dev/null 2>&1
for book in demo imported older; do
	"$program" verify "$book.rodbook" >/dev/null || fail "$book.rodbook does not verify"
	sh digest.sh "$book.rodbook" >digest
	"$program" verify "$book.rodbook" --csv | grep -q "^digest,$(cat digest)," ||
		fail "the digest of $book.rodbook is not what the page works out"
done

# forge SQL: a copy of the demonstration on which SQL was run with the triggers out of the way.
forge() {
	cp demo.rodbook forged.rodbook
	sqlite3 forged.rodbook "SELECT 'DROP TRIGGER ' || name || ';' FROM sqlite_schema
		WHERE type = 'trigger'" >drop.sql
	sqlite3 forged.rodbook <drop.sql
	sqlite3 forged.rodbook "$1"
}

# rows FILE BOOK: how many rows the query gives.
rows() {
	sqlite3 -readonly "$2" <"$1" >rows.out 2>rows.err || fail "$1 on $2: $(cat rows.err)"
	grep -c '' rows.out || true
}

# Nothing was struck in the demonstration, and no command strikes.
forge "UPDATE sight SET struck = time, why = 'slipped' WHERE id = 4"
mv forged.rodbook struck.rodbook

queries=0
for query in q*.sql; do
	grep -q '^\$' "$query" && continue
	queries=$((queries + 1))
	if ! grep -q '(none' "${query%.sql}.says"; then
		# under the name of whatever run has what it asks for
		found=0
		for book in demo struck; do
			for run in $(sqlite3 "$book.rodbook" 'SELECT id FROM run'); do
				sed "s/'weir'/(SELECT name FROM run WHERE id = $run)/
					s/'east'/(SELECT name FROM run WHERE id = $run)/" "$query" >named
				found=$((found + $(rows named "$book.rodbook")))
			done
		done
		[ "$found" -gt 0 ] || fail "$query finds nothing: $(head -n 1 "$query")"
		continue
	fi
	for book in demo imported older; do
		[ "$(rows "$query" "$book.rodbook")" -eq 0 ] ||
			fail "$query accuses the honest $book.rodbook: $(head -n 3 rows.out)"
	done
	found=0
	for sql in "UPDATE sight SET reading = reading + 1000000 WHERE id = 4" \
		"UPDATE sight SET remark = 'x' WHERE id = 4" \
		"INSERT INTO sight(run, place, kind, station, unit, typed, reading, method, time)
			VALUES(1, 99, 'IS', 'P', 'm', '1.5', 1500000000, 'rod', '')" \
		"UPDATE water SET reading = reading + 1000000 WHERE id = 1" \
		"INSERT INTO water(run, station, unit, typed, reading, time)
			SELECT run, station, unit, typed, reading, time FROM water LIMIT 1" \
		"UPDATE seal SET figures = replace(figures, '6371', '6372')" \
		"INSERT INTO seal SELECT max(id) + 1, run, figures, 0, '', time, '' FROM seal" \
		"UPDATE sight SET typed = '1.001' WHERE id = 4"; do
		forge "$sql"
		[ "$(rows "$query" forged.rodbook)" -gt 0 ] && found=$((found + 1))
		"$program" verify forged.rodbook >/dev/null 2>&1 && fail "verify takes: $sql"
	done
	[ "$found" -ge 1 ] || fail "$query finds no forgery: $(head -n 1 "$query")"
	echo "$query: finds $found of 8 forgeries: $(tail -n 1 "${query%.sql}.says")"
done
echo "$queries queries"
[ "$queries" -gt 0 ] && [ "$failed" -eq 0 ]
