/* One row a purpose: what it asks for, how long the text may be. */
#include "ui/prompted.h"

#include "base/mem.h"
#include "engine/ears.h"
#include "model/shape.h"
#include "ui/start.h"

static const struct {
    const char *words;
    size_t most;
} purposes[] = {
    [FOR_NOTHING] = {"", 0},
    [FOR_IN_USE] = {"in use by (empty: free again)", REF_SIZE - 1},
    [FOR_LABEL] = {"called", LABEL_MAX},
    [FOR_NOTE] = {"note", REF_SIZE - 1},
    [FOR_LEVEL] = {"measured level in dB(A) (empty: none)", 5},
    [FOR_SAVE_AS] = {"save as (the venue's name)", LABEL_MAX},
    [FOR_NEW_NAME] = {"venue", LABEL_MAX},
    [FOR_NEW_PLAYERS] = {"players", 9},
    [FOR_NEW_DECKS] = {"host decks", 9},
    [FOR_NEW_STRIPS] = {"strips from the left", 0},
};

void prompted_open(struct app *a, enum purpose purpose, const char *subject, const char *text)
{
    a->purpose = purpose;
    text_set(&a->subject, subject);
    prompt_start(&a->prompt, text, purposes[purpose].most);
}

void prompted_offer(struct app *a, enum purpose purpose, const char *subject, const char *text)
{
    prompted_open(a, purpose, subject, text);
    prompt_offer(&a->prompt, text, purposes[purpose].most);
}

const char *prompted_words(enum purpose purpose)
{
    return purposes[purpose].words;
}

static enum effect save_as(struct app *a, const char *text)
{
    struct booth *next = booth_copy(app_booth(a));
    text_set(&next->venue.name, *text ? text : "New venue");
    text_set(&a->asked, next->venue.name);
    app_commit(a, next, "name the venue");
    return EFFECT_SAVE;
}

static enum effect take_level(struct app *a, const char *text)
{
    struct err e;
    struct str says = {0};
    int tenths = EARS_UNTOLD;
    if (*text && !ears_read(text, &tenths, &e)) {
        app_say(a, true, "%s", e.says);
        return EFFECT_BELL;
    }
    a->level = tenths;
    ears_advise(tenths, &says);
    app_say(a, false, "%s", says.len ? str_text(&says) : "no level any more");
    str_clear(&says);
    return EFFECT_NONE;
}

static enum effect done(struct app *a, enum purpose purpose, const char *text)
{
    switch (purpose) {
    case FOR_IN_USE:
        app_change_one(a, change_of(CHANGE_IN_USE, a->subject, text));
        return EFFECT_NONE;
    case FOR_LABEL:
        app_change_one(a, change_of(CHANGE_LABEL, a->subject, text));
        return EFFECT_NONE;
    case FOR_NOTE:
        app_change_one(a, change_of(CHANGE_NOTE, a->subject, text));
        return EFFECT_NONE;
    case FOR_LEVEL:
        return take_level(a, text);
    case FOR_SAVE_AS:
        return save_as(a, text);
    default:
        start_prompted(a, text);
        return EFFECT_NONE;
    }
}

enum effect prompted_event(struct app *a, const struct event *ev)
{
    enum purpose purpose = a->purpose;
    struct event enter = {.kind = EVENT_KEY, .key = K_ENTER};
    bool leaves = purpose >= FOR_NEW_NAME && ev->kind == EVENT_KEY &&
                  (ev->key == K_DOWN || ev->key == K_TAB); /* a row of a form is left so as well */
    switch (prompt_event(&a->prompt, leaves ? &enter : ev)) {
    case PROMPT_DONE: {
        char *text = str_take(&a->prompt.text);
        a->purpose = FOR_NOTHING;
        prompt_clear(&a->prompt);
        enum effect effect = done(a, purpose, text);
        mem_free(text);
        return effect;
    }
    case PROMPT_CANCELLED:
        a->purpose = FOR_NOTHING;
        prompt_clear(&a->prompt);
        return EFFECT_NONE;
    case PROMPT_IGNORED:
        return ev->kind == EVENT_KEY ? EFFECT_BELL : EFFECT_NONE;
    default:
        return EFFECT_NONE;
    }
}
