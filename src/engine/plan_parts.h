/* What the three ways share: the wish (which strips are wanted, by whom), the price of a strip fed
 * by an output, and the making of actions. Only for plan*.c. */
#ifndef ENGINE_PLAN_PARTS_H
#define ENGINE_PLAN_PARTS_H

#include "engine/circuit.h"
#include "engine/plan.h"

/* A strip that is wanted, from the left. */
struct wish {
    int deck;  /* the first that wants it */
    int strip; /* a number of the circuit */
    int rank;
};

/* The cables at every output and input, by the circuit's numbers, in the file's order: the first of
 * them, and after each the next; -1 ends. */
struct cabling {
    int *from, *after_from; /* by output; by cable */
    int *into, *after_into; /* by input; by cable */
};
struct cabling cabling_of(const struct circuit *c);
void cabling_clear(struct cabling *k);

struct asked {
    const struct booth *b;
    const struct circuit *c;
    struct cabling cabling;
    struct prices prices;
    struct dead dead;
    struct wish wishes[MAX_STRIPS];
    int n;
};

/* Whether a device's card is dead. */
bool is_dead(const struct asked *a, const struct device *d);

/* Whether a lead leads nowhere: it is not plugged in, or hangs on the dead hub. */
bool is_loose(const struct asked *a, const struct plug *p);

/* How a strip is fed by one of several outputs: the cheapest input and output that fit. */
struct feed {
    bool fits;
    bool held; /* an input and an output fit, but for what is in use */
    int cost;  /* thousandths, of cable, unplugging, switch, selector and setting */
    char output[REF_SIZE], input[REF_SIZE];
    enum level level; /* that the input's switch must stand on; LEVEL_UNSAID: it stands right */
    int carries[2];   /* the output's card channels */
    int spare;        /* the number of a cable of the output that may be moved there; -1: none */
};

/* What may feed a strip. */
struct feeder {
    const struct device *device;
    const bool *outputs; /* which of its outputs; NULL: any */
    int first;           /* its first channel in the interface; -1: it joins anew, and the deck's
                          * setting always counts */
};

/* The cheapest feed of a strip; the first input, then the first output in the file's order among
 * equals. */
struct feed feed_of(const struct asked *a, const struct wish *wish, const struct feeder *by);

/* Whether a deck is set to a pair, and what it costs to set it: nothing when it is. */
bool is_set(const struct asked *a, int deck, struct pair pair);
int set_cost(const struct asked *a, int deck, struct pair pair);

/* Whether two jacks carry a channel in common. */
bool channels_shared(const struct ints *a, const struct ints *b);

/* Whether two pairs of the interface have a channel in common. */
bool pairs_overlap(struct pair a, struct pair b);

/* Whether the joined list is just this device. */
bool joined_alone(const struct booth *b, const struct device *d);

/* In the assignments a cost is minutes times this, and the distance of two ranks: more than any
 * sum of distances. */
enum { DISTANCE_ROOM = 1 << 14 };

/* The pair of card channels of a card that begins at a channel of the interface. */
struct pair pair_from(int first, const int carries[2]);

/* --- results --- */

/* What a way comes to before it is told: which feeds, which settings, what is joined. */
struct outcome {
    struct feed feeds[MAX_STRIPS];            /* by wish; without a cable for usb: output is "" */
    struct pair pairs[MAX_STRIPS];            /* what the decks are set to */
    bool always_set[MAX_STRIPS];              /* the setting is counted even if it is there */
    const struct device *players[MAX_STRIPS]; /* that takes control; NULL: nobody */
    struct texts joined;                      /* the joined list */
    size_t kept; /* how many from its front were joined already and stay */
};
void outcome_clear(struct outcome *o);

/* Makes a change on the booth after a plan and adds it as an action, told of the booth before it.
 * False, with the reason in e and nothing added, when the booth does not take it. */
bool plan_act(struct plan *p, const char *word, int minutes, struct change c, struct err *e);

/* The telling of an outcome, an action after the other. */
struct telling {
    const struct asked *a;
    const struct outcome *o;
    struct plan *p;
    bool brings_hub; /* with a supply, since no port is free */
    bool stuck;      /* the booth does not take an action: it is full */
    struct err says; /* why */
};

/* Makes a change on the booth after the plan as it is so far, and adds it as an action; once stuck,
 * nothing. */
void tell_act(struct telling *t, const char *word, int minutes, struct change c);

/* Notes what has to be brought, one of its kind more. */
void plan_pack(struct plan *p, const char *what);

/* Pulls the leads of what died; and makes room for the leads of all that is to be joined, as far as
 * that can be done with what is there. */
void make_ports(struct telling *t);

/* Plugs in a device, and the hubs on its way, where they lead nowhere. */
void plug_lead(struct telling *t, const char *id);

/* A free port that a thing can be plugged into and that leads to the laptop, the laptop's before a
 * hub's; feeds: it gives the current as well. Port 0: there is none. */
struct plug free_port(const struct booth *b, const char *id, bool feeds);

/* A joined card that gets too little current is advised to go into a port that feeds it, else a hub
 * is brought; where a bus has too little time, less traffic is advised. */
void tend_power(struct telling *t);

/* What controls a deck that wants a strip, and is plugged in nowhere, is advised to be. */
void advise_for_control(struct telling *t);
void advise_for_traffic(struct telling *t);

/* Fills a plan with the actions of an outcome, in the order of hands, their sum, the booth after
 * them, the bag and the advice. */
void plan_tell(const struct asked *a, const struct outcome *o, struct plan *p);

/* Makes it infeasible, with a reason (printf). */
void plan_refuse(struct plan *p, const char *fmt, ...) __attribute__((format(printf, 2, 3)));

/* Whether a device would serve a way if it were not in use. */
typedef bool would_serve(const struct asked *a, const struct device *d);

/* Makes it infeasible since too few are free of those that would serve: tells how many may be taken
 * ("1 player"), and who uses the others. There is one at least that would serve. */
void plan_refuse_few(const struct asked *a, struct plan *p, would_serve *would, const char *there);

/* Makes it infeasible since nothing that is free fits: no output of one ("a player") the first
 * wanted strip, or no choice of several ("players") all of them. */
void plan_refuse_fit(const struct asked *a, struct plan *p, would_serve *would,
                     const char *const of[2]);

/* What leaving and plugging costs for a joined list of which the first `kept` stay. */
int joining_cost(const struct asked *a, const struct texts *joined, size_t kept);

/* What leads from one joined list to another: devices can only be joined after the others, and any
 * can leave; so what stays is the longest beginning of the new list whose devices stood in this
 * order. Free with changes_clear(). */
struct changes rejoining(const struct texts *was, const struct texts *is);

/* The ways. Wishes are at least one, on strips of their own that are not in use. */
void plan_by_mixer(const struct asked *a, struct plan *p);
void plan_by_players(const struct asked *a, struct plan *p);
void plan_by_interface(const struct asked *a, struct plan *p);

#endif
