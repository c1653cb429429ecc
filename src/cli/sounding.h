/* A sound device, played to by a process of its own: whatever the device does, and even if it takes
 * nothing and never answers, the one who waits here can wait for something else as well, and end
 * it. */
#ifndef CLI_SOUNDING_H
#define CLI_SOUNDING_H

#include <stdbool.h>
#include <sys/types.h>

#include "base/err.h"
#include "cli/playing.h"

struct sounding {
    pid_t process;
    int orders; /* written: what it is to do; closed: to stop */
    int news;   /* read: how it goes */
};

/* Starts the process, which opens the device that p names; nothing sounds yet. False, with
 * ERR_WRITE, when there can be no process. End with sounding_end(). */
bool sounding_start(struct sounding *s, const struct playing *p, struct err *e);

/* A descriptor that becomes readable when there is news: that the device was opened, or could not
 * be, and later that all has sounded, or has failed. */
int sounding_news(const struct sounding *s);

/* Waits for the first news; fills in the layout of the frames. False, with an err, when the device
 * could not be opened. */
bool sounding_opened(struct sounding *s, struct sample_layout *layout, struct err *e);

/* Lets it sound. */
void sounding_go(struct sounding *s);

/* Waits for the second news. False, with ERR_WRITE, when the device failed. */
bool sounding_done(struct sounding *s, struct err *e);

/* Ends it: what has not sounded yet never will. Returns when it is silent; a device that does not
 * let itself be closed in a moment is left by killing the process. */
void sounding_end(struct sounding *s);

#endif
