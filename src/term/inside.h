/* What the files of term/ share among themselves. */
#ifndef TERM_INSIDE_H
#define TERM_INSIDE_H

#include <stdbool.h>

/* input.c: the decoder, taught the keys that the terminal's description names. */
void input_start(int escape_ms);
void input_stop(void);

/* input.c: the next event is to be the size of the window, whether or not it changed. */
void input_news(void);

/* output.c: colours, where they are wanted and there; what is on the screen is not known. */
void output_start(bool mono);

/* tty.c: reads the size of the window into curses, and has everything sent again. */
void tty_measure(void);

/* tty.c: takes the terminal again after others may have had it. */
void tty_retake(void);

/* tty.c: the terminal cannot be read any more. */
void tty_gone(void);

#endif
