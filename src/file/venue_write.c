/* The document of a booth: the file's own two members, then the booth's. */
#include "file/venue.h"

#include "file/fields.h"

void venue_write(const struct booth *b, struct str *out)
{
    struct json_out w = json_on(out, false);
    json_object(&w, NULL);
    json_text(&w, VENUE_FORMAT, "boothwright-venue");
    json_number(&w, VENUE_VERSION, 1);
    record_write_members(&shape_booth, b, &w);
    json_end(&w);
}
