/* One sitting at the editor: a venue's file, its journal, and what the app asks of the world. */
#ifndef CLI_SESSION_H
#define CLI_SESSION_H

#include <stdbool.h>

#include "base/err.h"

struct session_setup {
    const char *path; /* NULL: begin at the list of saved venues */
    bool ascii, mono;
};

/* Runs the editor until it is left; returns the program's exit status. */
int session_run(const struct session_setup *setup, struct err *e);

#endif
