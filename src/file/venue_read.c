/* A venue from its document: first what kind of file it is, then the tables, then the rules. */
#include "file/venue.h"

#include <stdio.h>
#include <string.h>

#include "file/fields.h"
#include "model/sound.h"

static bool format_fits(const struct json *doc, struct err *e)
{
    const struct json *format = json_member(doc, VENUE_FORMAT);
    if (!format)
        return err_set(e, ERR_READ, VENUE_FORMAT, "is missing; expected \"boothwright-venue\"");
    if (json_kind(format) == JSON_TEXT && strcmp(json_string(format), "boothwright-venue") == 0)
        return true;
    return err_set(e, ERR_READ, VENUE_FORMAT, "is of another kind; expected \"boothwright-venue\"");
}

static bool version_fits(const struct json *doc, struct err *e)
{
    const struct json *version = json_member(doc, VENUE_VERSION);
    if (!version || json_kind(version) == JSON_NULL)
        return err_set(e, ERR_READ, VENUE_VERSION, "is missing; expected 1");
    if (json_kind(version) != JSON_NUMBER)
        return err_set(e, ERR_READ, VENUE_VERSION, "is not a number; expected 1");
    long long n = json_thousandths(version);
    if (n == 1000)
        return true;
    if (n > 1000 && n % 1000 == 0)
        return err_set(e, ERR_READ, VENUE_VERSION,
                       "version %lld is newer than this program; expected 1", n / 1000);
    return err_set(e, ERR_READ, VENUE_VERSION, "there is no such version; expected 1");
}

/* Whether the booth, written again, is still a document that can be read. */
static bool can_be_saved(const struct booth *b, struct err *e)
{
    struct str out = {0};
    venue_write(b, &out);
    size_t n = out.len;
    str_clear(&out);
    return n <= JSON_MAX_BYTES ||
           err_set(e, ERR_READ, "", "would be %zu bytes long when it is saved; expected at most %d",
                   n, JSON_MAX_BYTES);
}

static bool read_document(const struct json *doc, struct booth *b, struct err *e)
{
    if (json_kind(doc) != JSON_OBJECT)
        return err_set(e, ERR_READ, "", "is not a venue; expected an object");
    return format_fits(doc, e) && version_fits(doc, e) && record_read(&shape_booth, doc, b, e) &&
           booth_sound(b, e) && can_be_saved(b, e);
}

struct booth *venue_read(const char *bytes, size_t n, struct err *e)
{
    struct json *doc = json_read(bytes, n, e);
    if (!doc)
        return NULL;
    struct booth *b = booth_new(NULL);
    bool fine = read_document(doc, b, e);
    json_free(doc);
    if (fine)
        return b;
    booth_free(b);
    return NULL;
}
