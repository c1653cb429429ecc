/* The specification says that a path in such a variable which is not absolute is to be ignored. */
#include "file/home.h"

#include <stdlib.h>

bool home_folder(struct str *out, const char *xdg, const char *below)
{
    const char *folder = getenv(xdg);
    if (folder && *folder == '/') {
        str_add(out, folder);
        return true;
    }
    const char *home = getenv("HOME");
    if (!home || *home != '/')
        return false;
    str_addf(out, "%s/%s", home, below);
    return true;
}
