/* Words on standard error would be written across the screen, and vanish with it when it is given
 * back: the last words of a failed assert or of a sanitizer most of all. So they go to a nameless
 * file, and are copied out once the terminal is its own again. */
#include "term/aside.h"

#include <fcntl.h>
#include <stdio.h>
#include <unistd.h>

static FILE *kept;
static int kept_fd = -1, true_fd = -1;

void aside_start(void)
{
    kept = isatty(STDERR_FILENO) ? tmpfile() : NULL;
    if (!kept)
        return;
    kept_fd = fileno(kept);
    true_fd = fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, 3);
    if (true_fd >= 0)
        dup2(kept_fd, STDERR_FILENO);
}

void aside_say(void)
{
    if (true_fd < 0)
        return;
    dup2(true_fd, STDERR_FILENO);
    lseek(kept_fd, 0, SEEK_SET);
    char bytes[512];
    for (ssize_t n; (n = read(kept_fd, bytes, sizeof bytes)) > 0;)
        if (write(STDERR_FILENO, bytes, (size_t)n) < 0)
            break;
    close(true_fd);
    true_fd = -1;
}

void aside_stop(void)
{
    aside_say();
    if (kept)
        fclose(kept);
    kept = NULL;
}
