/* An ident needs a rate at which a quarter of a second of its tone is whole cycles; two that every
 * host knows are enough. */
#include "cli/ident_asked.h"

#include <stdlib.h>
#include <string.h>

static const int rates_hz[] = {44100, 48000};

static int known_rate(long rate_hz)
{
    for (size_t i = 0; i < sizeof rates_hz / sizeof *rates_hz; i++)
        if (rates_hz[i] == rate_hz)
            return rates_hz[i];
    return 0;
}

enum ident ident_asked_kind(const struct arguments *a)
{
    return a->options & OPTION_EBU ? IDENT_EBU : IDENT_GLITS;
}

bool ident_asked_rate(const struct arguments *a, const struct booth *b, int *rate_hz, struct err *e)
{
    const char *rate = arguments_value(a, OPTION_RATE);
    *rate_hz = known_rate(b->host.rate_hz);
    if (!rate)
        return true;
    *rate_hz = strspn(rate, "0123456789") == strlen(rate) ? known_rate(strtol(rate, NULL, 10)) : 0;
    return *rate_hz ||
           err_set(e, ERR_USAGE, NULL,
                   "\"%.40s\" is not a rate for an ident; expected 44100 or 48000", rate);
}

int ident_asked_deck(const struct booth *b, const char *name, struct err *e)
{
    for (size_t i = 0; i < b->decks.n; i++)
        if (strcmp(b->decks.v[i].id, name) == 0 || strcmp(b->decks.v[i].label, name) == 0)
            return (int)i;
    err_set(e, ERR_USAGE, NULL, "there is no host deck \"%.64s\" in this venue", name);
    return -1;
}
