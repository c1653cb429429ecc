/* Where this user keeps things: the XDG base folders (XDG Base Directory Specification 0.8). */
#ifndef FILE_HOME_H
#define FILE_HOME_H

#include <stdbool.h>

#include "base/str.h"

/* Appends the folder that the variable xdg names ("XDG_DATA_HOME"), or, when it is unset, empty
 * or not absolute, $HOME/below (".local/share"). False, with nothing appended, when HOME is unset
 * or not absolute, too. */
bool home_folder(struct str *out, const char *xdg, const char *below);

#endif
