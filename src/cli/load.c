/* Files are read by disk.c, which knows what may be opened; standard input is read to its end. */
#include "cli/load.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>

#include "file/disk.h"
#include "file/venue.h"

static bool read_standard_input(struct str *bytes, struct err *e)
{
    int why = disk_read_all(STDIN_FILENO, DISK_FILE_MAX, bytes);
    if (why == EFBIG)
        return err_set(e, ERR_READ, NULL, "longer than a venue can be (%zu bytes)", DISK_FILE_MAX);
    if (why)
        return err_set(e, ERR_READ, NULL, "cannot be read: %s", strerror(why));
    return true;
}

struct booth *load_venue(const char *file, struct err *e)
{
    struct str bytes = {0};
    struct stamp seen;
    struct booth *b = NULL;
    if (strcmp(file, "-") == 0 ? read_standard_input(&bytes, e) : disk_read(file, &bytes, &seen, e))
        b = venue_read(str_text(&bytes), bytes.len, e);
    str_clear(&bytes);
    return b;
}
