#include "support/broken_file.h"

#include <check.h>
#include <string.h>

#include "support/venue_file.h"

static const struct broken rows[] = {
    /* what kind of file it is */
    {"\"boothwright-venue\"", "\"booth\"", "format", "expected \"boothwright-venue\""},
    {"\"format\"", "\"form\"", "format", "is missing"},
    {"\"version\":1", "\"version\":2", "version", "version 2 is newer"},
    {"\"version\":1", "\"version\":1000000000", "version", "version 1000000000 is newer"},
    {"\"version\":1", "\"version\":0", "version", "expected 1"},
    {"\"version\":1", "\"version\":1.5", "version", "expected 1"},
    {"\"version\":1", "\"version\":\"1\"", "version", "is not a number"},
    {"\"version\":1", "\"version\":null", "version", "is missing"},
    {"\"version\":1", "\"edition\":1", "version", "is missing"},
    /* required members */
    {"\"name\":\"Tideline Hall\"", "\"title\":\"x\"", "venue.name", "is missing"},
    {"\"name\":\"Tideline Hall\"", "\"name\":null", "venue.name", "is empty"},
    {"\"name\":\"Tideline Hall\"", "\"name\":\"\"", "venue.name", "is empty"},
    {"\"venue\":", "\"place\":", "venue", "is missing"},
    {"\"host\":", "\"guest\":", "host", "is missing"},
    {"\"devices\":", "\"things\":", "devices", "is missing; expected a list"},
    {"\"id\":\"p1\",", "", "devices[0].id", "is missing"},
    {"\"kind\":\"player\",", "", "devices[0].kind", "is missing; expected player, turntable"},
    {"\"kind\":\"player\"", "\"kind\":\"\"", "devices[0].kind",
     "is empty; expected player, turntable"},
    {"\"label\":\"P1\",", "", "devices[0].label", "is missing"},
    {"\"place\":1,", "", "devices[0].place", "is missing; expected a whole number from 1 to 999"},
    {"\"out_channels\":2,", "", "devices[0].card.out_channels", "is missing"},
    {"\"strips\":[", "\"lanes\":[", "devices[1].strips", "is missing; expected a list"},
    {"\"strips\":[", "\"strips\":null,\"lanes\":[", "devices[1].strips", "is empty"},
    {"\"selected\":\"line\",", "", "devices[1].strips[0].selected", "is missing"},
    {"\"inputs\":[", "\"ways\":[", "devices[1].strips[0].inputs", "is missing"},
    {"\"level\":\"line\",", "", "devices[0].outputs[0].level", "is missing"},
    {"\"level\":\"line\",\"ch", "\"level\":\"\",\"ch", "devices[0].outputs[0].level", "is empty"},
    {"\"level\":\"line\",\"channels\":[1,2]", "\"level\":\"line\"",
     "devices[0].outputs[0].channels", "is missing"},
    {"\"level\":\"usb\",\"channels\":[1,2]", "\"level\":\"usb\"",
     "devices[1].strips[0].inputs[2].channels", "is missing"},
    {"\"from\":\"p1.line\",", "", "cables[0].from", "is missing"},
    {"\"to\":\"s1.line\",", "", "cables[0].to", "is missing"},
    {"\"id\":\"h1\",", "", "decks[0].id", "is missing"},
    {"\"label\":\"H1\"", "\"name\":\"H1\"", "decks[0].label", "is missing"},
    {"\"ports\":7", "\"holes\":7", "hubs[0].ports", "is missing"},
    /* words */
    {"\"from-1\"", "\"from-2\"", "host.channel_names",
     "\"from-2\" is not from-0, from-1 or by-device"},
    {"\"by-hand\"", "\"by-foot\"", "host.combining", "is not none, by-hand or by-driver"},
    {"\"closes\"", "\"Closes\"", "host.gap", "is not closes or keeps"},
    {"\"hid\"", "\"HID\"", "devices[0].control", "is not none, hid, midi or record"},
    {"\"high\"", "\"fast\"", "devices[0].usb.speed", "is not high, full or super"},
    {"\"coax\"", "\"din\"", "devices[0].outputs[1].connector", "is not rca, coax"},
    {"\"straight\"", "\"crossed\"", "cables[0].sides", "is not straight, swapped"},
    {"\"crossfader\":\"off\"", "\"crossfader\":\"A\"", "devices[1].strips[0].crossfader",
     "is not off, left or right"},
    {"\"p1\":\"own-media\"", "\"p1\":\"radio\"", "found.source.p1", "is not own-media or computer"},
    {"\"left\":\"left\"", "\"left\":\"l\"", "line_check[0].heard[0].left", "is not untold"},
    /* references and data leads */
    {"\"joined\":[\"p1\"]", "\"joined\":[\"p1\",\"p1\"]", "joined[1]", "joined twice"},
    {"\"joined\":[\"p1\"]", "\"joined\":[\"\"]", "joined[0]", "is not an id"},
    {"\"host.1\"", "\"host\"", "hubs[0].plugged", "\"host\" is not host.N"},
    {"\"host.1\"", "\"host.-1\"", "hubs[0].plugged", "is not host.N"},
    {"\"host.1\"", "\"host.1.1\"", "hubs[0].plugged", "is not host.N"},
    {"\"host.1\"", "\"host.9999999999\"", "hubs[0].plugged", "is not host.N"},
    {"\"host.1\"", "\"host.0\"", "hubs[0].plugged", "port 0 is below 1"},
    {"\"host.1\"", "\"built-in\"", "hubs[0].plugged", "there is no hub"},
    {"\"host.1\"", "\"host.999\"", NULL, NULL},
    {"\"host.2\"", "\"built-in\"", NULL, NULL},
    /* numbers */
    {"[0,1]", "[0]", "decks[0].set_to", "a list is not two whole numbers from 0 to 16383"},
    {"[0,1]", "[0,1,2]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "[0,0.5]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "[-1,1]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "[0,16384]", "decks[0].set_to", "is not two whole numbers"},
    {"[0,1]", "\"x\"", "decks[0].set_to", "\"x\" is not two whole numbers"},
    {"[0,1]", "[16383,0]", NULL, NULL},
    {"[0,1]", "[7,7]", NULL, NULL},
    {"[0,1]", "[]", NULL, NULL},
    {"\"move\":2.5", "\"move\":600", NULL, NULL},
    {"\"move\":2.5", "\"move\":0.001", NULL, NULL},
    {"\"move\":2.5", "\"move\":600.001", "host.minutes.move", "is not a number from 0 to 600"},
    {"\"move\":2.5", "\"move\":-0.001", "host.minutes.move", "is not a number from 0 to 600"},
    {"\"rate_hz\":48000", "\"rate_hz\":7999", "host.rate_hz", "from 8000 to 768000"},
    {"\"rate_hz\":48000", "\"rate_hz\":48000.5", "host.rate_hz", "48000.5 is not a whole number"},
    {"\"buffer_frames\":256", "\"buffer_frames\":65537", "host.buffer_frames", "16 to 65536"},
    {"[44100,48000]", "[44100,\"x\"]", "devices[0].card.rates_hz[1]", "\"x\" is not a whole"},
    {"\"channels\":[1,2]", "\"channels\":[1,1]", "devices[0].outputs[0].channels", "twice"},
    {"\"channels\":[1,2]", "\"channels\":[]", "devices[0].outputs[0].channels", "is missing"},
    /* texts */
    {"\"2.4\"", "\"2.4b\"", "devices[0].firmware", "is not dotted digits"},
    {"\"id\":\"p1\"", "\"id\":\"P1\"", "devices[0].id", "\"P1\" is not an id"},
    {"\"id\":\"hub1\"", "\"id\":\"host\"", "hubs[0].id", "the laptop's own name"},
    {"\"p1\":\"own-media\"", "\"p1\":7", "found.source.p1", "7 is not own-media or computer"},
    {"\"join-p1\":\"done\"", "\"join-p1\":true", "checklist.join-p1", "is not a text or null"},
    {"\"join-p1\":\"done\"", "\"join-gone\":\"\"", NULL, NULL},
    {"\"deck\":\"h1\"", "\"deck\":\"h9\"", NULL, NULL},
};

/* What only the reader can tell: what a name means, and what stands twice. */
static const struct broken reader_rows[] = {
    {"\"wants\":\"s1\"", "\"wants\":\"s2\"", "decks[0].wants", "there is no strip \"s2\""},
    {"\"controlled_by\":\"p1\"", "\"controlled_by\":\"m1\"", "decks[0].controlled_by",
     "is not a player, controller or turntable"},
    {"\"to\":\"s1.line\"", "\"to\":\"s1.usb\"", "cables[0].to", "is a usb input"},
    {"\"host.1\"", "\"hub1.1\"", "hubs[0].plugged", "in a ring"},
    {"\"channels\":[1,2]", "\"channels\":[3]", "devices[0].outputs[0].channels", "beyond the card"},
    {"\"wants\":\"s1\"", "\"wants\":\"s1\",\"wants\":\"s1\"", "decks[0]",
     "\"wants\" is there twice"},
    {"\"join-p1\":\"done\"", "\"a\":\"b\",\"a\":\"b\"", "checklist", "\"a\" is there twice"},
    {"\"id\":\"h1\"", "\"id\":\"p1\"", "devices[0].id", "\"p1\" is there twice"},
};

enum { ROWS = sizeof rows / sizeof *rows, READER_ROWS = sizeof reader_rows / sizeof *reader_rows };

size_t broken_count(void)
{
    return ROWS + READER_ROWS;
}

const struct broken *broken_at(size_t i)
{
    return i < ROWS ? &rows[i] : &reader_rows[i - ROWS];
}

bool broken_reader_only(size_t i)
{
    return i >= ROWS;
}

void broken_text(size_t i, struct str *out)
{
    const struct broken *row = broken_at(i);
    struct str line = example_line();
    const char *at = strstr(line.text, row->from);
    ck_assert_msg(at != NULL, "%s is not in the example", row->from);
    str_addn(out, line.text, (size_t)(at - line.text));
    str_add(out, row->to);
    str_add(out, at + strlen(row->from));
    str_clear(&line);
}
