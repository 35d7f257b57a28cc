#include "html/html.h"

#include <stdbool.h>
#include <string.h>

#include "plot/plot_xml.h"

/* Wide enough for the workings on paper. On a telephone what is wider than the screen moves in a
 * box of its own, and a shadow at its edge shows that it goes on; what keeps its columns is never
 * broken. A picture is not drawn smaller than its letters can be read; the name of a row stays in
 * sight. Struck entries are told by a line and by a word. */
static const char style[] =
    "body{font:16px/1.45 system-ui,sans-serif;color:#000;background:#fff;margin:0 auto;"
    "max-width:56rem;padding:1rem;overflow-wrap:break-word}\n"
    "h1{font-size:1.3rem;margin:0 0 .8rem}h2{font-size:1.1rem;margin:1.6rem 0 .4rem}\n"
    "dl{display:grid;grid-template-columns:max-content minmax(0,1fr);gap:.1rem 1rem;margin:0}\n"
    "dt{font-weight:600}dd{margin:0}\n"
    ".answer{border:2px solid #000;padding:.6rem .9rem;margin:1rem 0}\n"
    "table{border-collapse:collapse;font-variant-numeric:tabular-nums}\n"
    "th,td{padding:.12rem .35rem;text-align:left;vertical-align:top;border-bottom:1px solid "
    "#bbb}\n"
    "thead th{border-bottom:2px solid #000}tbody th{font-weight:600}"
    "td.n,th.n{text-align:right}td.n,.q{white-space:nowrap}\n"
    ".remark{min-width:6rem;overflow-wrap:anywhere}.wide table{font-size:15px}\n"
    "tfoot td,tfoot th{border-top:2px solid #000;font-weight:600}\n"
    "del{color:#444}\n"
    "svg{max-width:100%;height:auto}.true svg{max-width:none}\n"
    "pre{font:13px/1.35 ui-monospace,monospace;white-space:pre-wrap;overflow-wrap:anywhere;"
    "margin:0}\n"
    "footer{margin-top:1.5rem;border-top:1px solid #000;font-size:.8rem;overflow-wrap:"
    "anywhere}\n"
    "@media screen{.wide{overflow-x:auto;background:"
    "linear-gradient(90deg,#fff 40%,#fff0) 0/2.5rem 100% no-repeat local,"
    "linear-gradient(270deg,#fff 40%,#fff0) 100%/2.5rem 100% no-repeat local,"
    "linear-gradient(90deg,#666,#6660) 0/.9rem 100% no-repeat scroll,"
    "linear-gradient(270deg,#666,#6660) 100%/.9rem 100% no-repeat scroll}"
    "pre.wide{white-space:pre;overflow-wrap:normal}"
    ".wide svg{mix-blend-mode:multiply}}\n"
    "@media screen and (max-width:640px){pre{font-size:11px}.wide table{font-size:14px}"
    ".wide th[scope=row]{position:sticky;left:0;background:#fff}"
    ".wide tr>:first-child{min-width:5rem;max-width:9rem;overflow-wrap:anywhere}"
    ".remark{min-width:11rem}.wide svg{max-width:none;width:640px}"
    ".drawing::before{content:\"wider than the screen: move it sideways \\2192\";"
    "font-size:.8rem}}\n"
    "@page{margin:16mm}\n"
    "@media print{body{max-width:none;padding:0;font-size:9.5pt;line-height:1.3}"
    ".wide table{font-size:inherit}"
    "pre{font-size:8.5pt}h1{font-size:13pt}h2{font-size:11pt;margin-top:.9rem}ol{margin:0}"
    "th,td{padding:.08rem "
    ".25rem}thead{display:table-header-group}tr,li,.answer,svg,.keep{break-inside:avoid}"
    "h2{break-after:avoid}.sheet{break-before:page}}\n";

void html_text(FILE *out, const char *text)
{
	xml_put_bytes(out, text, strlen(text));
}

void html_element(FILE *out, const char *name, const char *attributes, const char *text)
{
	fprintf(out, "<%s%s%s>", name, *attributes ? " " : "", attributes);
	html_text(out, text);
	fprintf(out, "</%s>\n", name);
}

void html_begin(FILE *out, const char *title)
{
	fputs("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
	      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n",
	      out);
	html_element(out, "title", "", title);
	fprintf(out, "<style>\n%s</style>\n</head>\n<body>\n", style);
	html_element(out, "h1", "", title);
}

void html_end(FILE *out, const char *foot)
{
	html_element(out, "footer", "", foot);
	fputs("</body>\n</html>\n", out);
}

/* Whether breaking the first line would move its parts: more than one blank behind its first word
 * sets them apart, or there are places to write on. */
static bool has_columns(const char *text)
{
	size_t size = strcspn(text, "\n");
	for (size_t i = strspn(text, " "); i + 1 < size; i++)
		if (text[i] == text[i + 1] && (text[i] == ' ' || text[i] == '_'))
			return true;
	return false;
}

/* Writes the first line, by itself: xml_put_bytes() takes line ends for control characters. Returns
 * where the next one begins. */
static const char *put_line(FILE *out, const char *text)
{
	size_t size = strcspn(text, "\n");
	xml_put_bytes(out, text, size);
	fputc('\n', out);
	return text + size + (text[size] == '\n');
}

/* A blank line goes with the lines before it. */
void html_lines(FILE *out, const char *heading, const char *text)
{
	bool open = false, wide = false;
	if (*heading)
		html_element(out, "h2", "", heading);
	while (*text) {
		if (!open || (*text != '\n' && has_columns(text) != wide)) {
			wide = has_columns(text);
			fputs(open ? "</pre>\n" : "", out);
			fputs(wide ? "<pre class=\"wide\">" : "<pre>", out);
			open = true;
		}
		text = put_line(out, text);
	}
	fputs(open ? "</pre>\n" : "", out);
}

void html_prose(FILE *out, const char *heading, const char *text)
{
	if (*heading)
		html_element(out, "h2", "", heading);
	fputs("<p>", out);
	while (*text)
		text = put_line(out, text);
	fputs("</p>\n", out);
}

void html_drawing(FILE *out, const char *svg)
{
	const char *begins = strstr(svg, "<svg");
	fprintf(out, "<div class=\"keep drawing wide\">%s</div>\n", begins ? begins : "");
}
