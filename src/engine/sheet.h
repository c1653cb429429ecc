/* The patch sheet: one page for the house technician and for the person's own folder. */
#ifndef ENGINE_SHEET_H
#define ENGINE_SHEET_H

#include "base/str.h"
#include "engine/derived.h"

/* Each appends a whole sheet. date is printed as it is ("2026-11-25"); labels are made safe.
 *   text  UTF-8, at most 80 columns a line (see utf8.h)
 *   csv   RFC 4180, CRLF: one row a route, a joining step and a cable; a cell that a spreadsheet
 *         would take for a formula (it begins with = + - @) gets an apostrophe in front
 *   svg   A4 landscape, black on white, no scripts, nothing from elsewhere */
void sheet_text(const struct derived *d, const char *date, struct str *out);
void sheet_csv(const struct derived *d, const char *date, struct str *out);
void sheet_svg(const struct derived *d, const char *date, struct str *out);

/* What all of them say of one booth: the way in, and the cautions, a sentence each. */
const char *sheet_way(const struct booth *b);
const char *sheet_caution(size_t i); /* NULL past the end */

/* Appends the way in and what is set in the host, as a sentence. */
void sheet_settings(const struct booth *b, struct str *out);

/* Appends what a deck's route goes through: "P1 line", "M1 usb"; nothing without a route. */
void sheet_through(const struct derived *d, int deck, struct str *out);

#endif
