/* The tables of words. A new word is one row here and one name in words.h. */
#include "model/words.h"

#include <assert.h>
#include <string.h>

#define WORDS(name, what, ...)                                                                     \
    static const struct word name##_rows[] = {__VA_ARGS__};                                        \
    const struct words words_##name = {what, name##_rows, sizeof name##_rows / sizeof *name##_rows}

WORDS(device_kind, "a kind of device", {"player", "player"}, {"turntable", "turntable"},
      {"mixer", "mixer"}, {"interface", "interface"}, {"controller", "controller"});
WORDS(level, "a level", {NULL, "-"}, {"line", "line"}, {"phono", "phono"}, {"digital", "digital"},
      {"usb", "usb"});
WORDS(connector, "a connector", {NULL, "-"}, {"rca", "RCA"}, {"coax", "coax"},
      {"optical", "optical"}, {"trs", "TRS jack"}, {"ts", "TS jack"}, {"xlr", "XLR"},
      {"minijack", "minijack"});
WORDS(source, "a source", {"own-media", "own media"}, {"computer", "computer"});
WORDS(control, "a kind of control", {"none", "none"}, {"hid", "HID"}, {"midi", "MIDI"},
      {"record", "control record"});
WORDS(crossfader, "a crossfader side", {"off", "off"}, {"left", "left"}, {"right", "right"});
WORDS(speed, "a USB speed", {"high", "high speed"}, {"full", "full speed"},
      {"super", "SuperSpeed"});
WORDS(sides, "the sides of a cable", {"straight", "straight"}, {"swapped", "sides swapped"},
      {"left-only", "left side only"}, {"right-only", "right side only"});
WORDS(combining, "a way of combining", {"none", "cannot combine"}, {"by-hand", "by hand"},
      {"by-driver", "by driver"});
WORDS(gap, "a way with gaps", {"closes", "later channels move down"}, {"keeps", "the gap stays"});
WORDS(on_drop, "a way with drops", {"stops", "everything stops"},
      {"plays-on", "the rest plays on"});
WORDS(channel_names, "a way of counting", {"from-0", "counts from 0"}, {"from-1", "counts from 1"},
      {"by-device", "names by device"});
WORDS(way, "a way into the mixer", {"mixer-card", "the mixer's own card"},
      {"player-cards", "the players' cards combined"}, {"patched", "an interface patched in"});
WORDS(ear, "what was heard", {"untold", "untold"}, {"left", "left"}, {"right", "right"},
      {"both", "both"}, {"none", "none"});

const char *word_file(const struct words *w, int value)
{
    assert(value >= 0 && (size_t)value < w->n);
    return w->v[value].file;
}

const char *word_people(const struct words *w, int value)
{
    assert(value >= 0 && (size_t)value < w->n);
    return w->v[value].people;
}

int word_find(const struct words *w, const char *text)
{
    for (size_t i = 0; i < w->n; i++)
        if (w->v[i].file && strcmp(w->v[i].file, text) == 0)
            return (int)i;
    return -1;
}
