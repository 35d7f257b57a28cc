# The boxes of all labels and signs in SVG files: fails where a label meets another label, a sign, the end
# of an error bar or of an upright, or the edge. With -v texts=1 prints each label's estimated width and text
# instead, for a browser to hold against.
#
#	LC_ALL=C awk -f tests/outside/boxes.awk FILE.svg...
#
# A letter's width, in hundredths of an em, is that of DejaVu Sans as Chromium measures it, rounded up: no
# common font without serifs is wider. Of other scripts each letter counts as the widest of its length in UTF-8.

BEGIN {
	n = split("32 41 46 84 64 96 78 28 40 40 50 84 32 37 32 34 64 64 64 64 64 64 64 64 64 64 34 34 84 84 84 54 100 69 69 70 78 64 58 78 76 30 30 66 56 87 75 79 61 79 70 64 62 74 69 99 69 62 69 40 34 40 84 50 50 62 64 55 64 62 36 64 64 28 28 58 28 98 64 62 64 64 42 53 40 64 60 82 60 60 53 64 34 64 84", of, " ")
	for (i = 1; i <= n; i++)
		width[sprintf("%c", 31 + i)] = of[i] / 100
	for (i = 128; i < 256; i++)
		width[sprintf("%c", i)] = i < 192 ? 0 : i == 199 ? 1.43 : i == 226 ? 1.74 : i < 224 ? 1.1 : 1.3
}

function get(name,  at, text) {
	at = index($0, " " name "=\"")
	if (!at)
		return ""
	text = substr($0, at + length(name) + 3)
	return substr(text, 1, index(text, "\"") - 1)
}

function ems(text,  i, sum) {
	gsub(/&lt;/, "<", text); gsub(/&gt;/, ">", text); gsub(/&quot;/, "\"", text); gsub(/&amp;/, "\\&", text)
	for (i = 1; i <= length(text); i++)
		sum += width[substr(text, i, 1)]
	return sum
}

function take(kind, name, l, t, r, b) {
	boxes++
	is[boxes] = kind; called[boxes] = name; left[boxes] = l; top[boxes] = t; right[boxes] = r; bottom[boxes] = b
}

function judge(  i, j) {
	for (i = 1; i <= boxes; i++) {
		if (is[i] != "label")
			continue
		if (left[i] < 0 || right[i] > edge || top[i] < 0 || bottom[i] > height)
			said[++faults] = file ": " called[i] " runs over the edge"
		for (j = 1; j <= boxes; j++)
			if (j != i && (is[j] != "label" || j > i) && left[i] < right[j] && left[j] < right[i] &&
			    top[i] < bottom[j] && top[j] < bottom[i])
				said[++faults] = file ": " called[i] " meets " is[j] " " called[j]
	}
	all += boxes
	boxes = 0
}

FNR == 1 {
	judge()
	file = FILENAME
}

/<svg / {
	split(get("viewBox"), at, " ")
	edge = at[3] + 0
	height = at[4] + 0
	font = get("font-size") + 0
}

/^<text / {
	text = substr($0, index($0, ">") + 1)
	sub(/<\/text>.*/, "", text)
	size = get("font-size") ? get("font-size") : font
	wide = size * ems(text)
	if (texts)
		printf "%.2f\t%s\n", wide, text
	anchor = get("text-anchor")
	x = get("x") - (anchor == "middle" ? wide / 2 : anchor == "end" ? wide : 0)
	if (get("transform") ~ /rotate/) {
		take("label", text, get("x") - 0.76 * size, get("y") - wide / 2, get("x") + 0.21 * size, get("y") + wide / 2)
		next
	}
	take("label", text, x, get("y") - 0.76 * size, x + wide, get("y") + 0.21 * size)
}

/<path transform="translate\(/ {
	split(substr($0, index($0, "translate(") + 10), at, "[ )]")
	take("sign", get("data-shape"), at[1] - 5, at[2] - 5, at[1] + 5, at[2] + 5)
}

/<path class="error"/ {
	split(get("d"), at, "[MVh ]+")
	take("bar end", "", at[2] - 4, at[3] - 1, at[2] + 4, at[3] + 1)
	take("bar end", "", at[2] - 4, at[4] - 1, at[2] + 4, at[4] + 1)
}

/<line class="mark"/ { take("upright end", "", get("x1") - 1, get("y1") - 1, get("x1") + 1, get("y1") + 1) }

END {
	judge()
	if (texts)
		exit
	for (i = 1; i <= faults; i++)
		print said[i]
	if (faults || !all)
		exit 1
	print all " boxes, none meets another"
}
