/* What is said on standard error while the screen is taken: kept, and said afterwards. */
#ifndef TERM_ASIDE_H
#define TERM_ASIDE_H

/* Starts to keep it, if standard error is a terminal at all. */
void aside_start(void);

/* Says what was kept on the true standard error. May be called from a signal handler. */
void aside_say(void);

/* The same, and lets go of what aside_start() took. */
void aside_stop(void);

#endif
