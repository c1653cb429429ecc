/* What the finders of faults share: how to tell one, its names, and the searches that suggest
 * what would put it right. Only for faults.c and rules_*.c.
 *
 * A finder walks the circuit and, for each finding, makes the sentence, names the subjects and
 * adds the changes that would remove it. The runner then drops a fix that would touch what is in
 * use, and says the rest as an order. */
#ifndef ENGINE_RULES_H
#define ENGINE_RULES_H

#include "engine/faults.h"
#include "engine/route.h"

struct report {
    const struct circuit *c;
    const struct booth *b; /* the circuit's */
    struct faults *found;
    const char *slug; /* of the rule that is running */
    enum severity severity;
};

typedef void (*finder)(struct report *r);

/* rules_path.c: the four reasons why a wanted strip has no sound, at most one for each deck */
void find_own_media(struct report *r);
void find_selector_elsewhere(struct report *r);
void find_not_joined(struct report *r);
void find_unwired_strip(struct report *r);
/* rules_signal.c: decks against each other and against their settings */
void find_doubled_strip(struct report *r);
void find_doubled_pair(struct report *r);
void find_stale_setting(struct report *r);
void find_no_such_channel(struct report *r);
void find_straddled_pair(struct report *r);
/* rules_wiring.c: cables */
void find_level_mismatch(struct report *r);
void find_doubled_input(struct report *r);
void find_dead_side(struct report *r);
void find_swapped_sides(struct report *r);
void find_split_output(struct report *r);
/* rules_joined.c: the interface as a whole */
void find_cannot_combine(struct report *r);
void find_device_in_use(struct report *r);
void find_no_common_rate(struct report *r);
void find_order_against_place(struct report *r);
void find_odd_card(struct report *r);
void find_free_running_clocks(struct report *r);
void find_long_latency(struct report *r);
void find_new_combination(struct report *r);
void find_idle_player(struct report *r);
/* rules_habit.c: what bites later */
void find_strip_in_use(struct report *r);
void find_no_control(struct report *r);
void find_crossed_control(struct report *r);
void find_doubled_control(struct report *r);
void find_old_firmware(struct report *r);
void find_undecided_deck(struct report *r);
/* rules_usb.c: plugs, ports, power, traffic */
void find_unplugged(struct report *r);
void find_usb_ports(struct report *r);
void find_usb_depth(struct report *r);
void find_usb_power(struct report *r);
void find_usb_bandwidth(struct report *r);

/* --- telling (faults.c) --- */

/* A new finding with this sentence, which is taken. Borrowed until the next one. */
struct fault *report_fault(struct report *r, struct str *text);
void fault_on(struct fault *f, const char *subject);
void fault_on_joined(const struct report *r, struct fault *f);
void fault_fix(struct fault *f, struct change change);
/* What to do where no change of ours can; a later call replaces an earlier one. */
void fault_advise(struct fault *f, const char *text);

/* --- names for people (faults.c) --- */

const char *deck_label(const struct report *r, int deck);
const char *device_label(const struct report *r, int device);
/* Append "strip 4", "P1's line output", "strip 4's line input". */
void say_strip(const struct report *r, int strip, struct str *out);
void say_output(const struct report *r, int output, struct str *out);
void say_input(const struct report *r, int input, struct str *out);
/* Appends what stands before the i-th of n: nothing, ", " or " and ". */
void say_next(size_t i, size_t n, struct str *out);
/* Appends the labels of the joined, in joining order. */
void say_joined(const struct report *r, struct str *out);

/* --- suggesting (remedy.c) --- */

/* Whether two pairs have a channel in common; never with a pair that is none (left -1). */
bool pairs_share(struct pair a, struct pair b);
bool pairs_equal(struct pair a, struct pair b);

/* Whether any deck wants the strip. */
bool strip_wanted(const struct circuit *c, int strip);

/* How many cables end in an input, or start at an output. */
int input_cables(const struct circuit *c, int input);
int output_cables(const struct circuit *c, int output);

/* The record of an output or input by its number. */
const struct output *output_record(const struct circuit *c, int output);
const struct input *input_record(const struct circuit *c, int input);

/* Whether an input takes a level as it stands, or could by its switch. */
bool input_could_take(const struct input *in, enum level level);

/* The first strip from the left that is not in use, that no deck wants and whose route shares no
 * channel with what any deck but this one plays to; -1 when there is none. */
int free_strip_for(const struct circuit *c, int deck);

/* Lets a deck want another strip (-1: none) and, where it is set to something, sets it to the
 * route there (or to nothing). Also in the hypothesis h, so that a next deck sees it. */
void fix_by_moving(struct fault *f, struct circuit *h, int deck, int strip);

/* A copy of the circuit with another joined list of n devices. Free with circuit_free(). */
struct circuit *circuit_rejoined(const struct circuit *c, const int *joined, size_t n);

/* Once the interface or its cables have changed: every deck that is set to its route follows it,
 * and is set to nothing where it has none any more. Adds the settings that differ. */
void fix_settings(struct fault *f, const struct circuit *before, const struct circuit *after);

/* Lets a device leave, and the settings follow. */
void fix_by_leaving(struct fault *f, const struct circuit *c, int device);

/* A free port that leads to the host, can feed the thing (a device or hub by id) and is not given
 * away by an earlier change of the same fix: the host's first, then the hubs' in the file's order.
 * False when there is none. */
bool fix_by_plugging(const struct booth *b, struct fault *f, const char *thing);

#endif
