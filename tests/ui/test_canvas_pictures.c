/* Whole pictures of booths: what a person sees. After a change of the canvas, look at every one. */
#include <check.h>
#include <string.h>

#include "base/mem.h"
#include "model/shape.h"
#include "support/booth_from.h"
#include "ui/canvas.h"

/* The picture of a booth, which is freed, in a window of that size. Free with mem_free(). */
static char *picture(struct booth *b, struct grid *g, const struct canvas_marks *marks)
{
    struct derived *d = derived_make(b);
    struct canvas *c = canvas_make(d, g->columns, g->rows);
    struct str text = {0};
    canvas_draw(c, g, (struct rect){0, 0, g->columns, g->rows}, 0, 0, marks);
    grid_text(g, &text);
    grid_free(g);
    canvas_free(c);
    derived_free(d);
    booth_free(b);
    return str_take(&text);
}

static void check_picture(int w, int h, bool ascii, const char *booth, const char *expected)
{
    char *text = picture(booth_from(booth), grid_new(w, h, ascii), NULL);
    ck_assert_msg(strcmp(text, expected) == 0, "expected\n%sbut it is\n%s", expected, text);
    mem_free(text);
}

START_TEST(a_tidy_booth_beside_a_pane)
{
    check_picture(51, 20, false,
                  "host names from-1;p1.line > s1.line;p2.line > s2.line;"
                  "p3.line > s3.line;p4.line > s4.line;joined p1 p2 p3 p4;h1 wants s2;"
                  "h2 wants s3;h3 wants s1;h4 wants s4;p1 plugged host.1;"
                  "p2 plugged host.2;s4 selects phono",
                  "  ┌H3──────┐  ┌H1──────┐  ┌H2──────┐  ┌H4──────┐\n"
                  "  │  1/2   │  │  3/4   │  │  5/6   │  │no route│\n"
                  "  └────┬───┘  └────┬───┘  └────┬───┘  └────────┘\n"
                  "       │           │           │\n"
                  "  ┌P1──┴───┐  ┌P2──┴───┐  ┌P3──┴───┐  ┌P4──────┐\n"
                  "  │1st  1/2│  │2nd  3/4│  │3rd  5/6│  │4th  7/8│\n"
                  "  │computer│  │computer│  │computer│  │computer│\n"
                  "  │laptop 1│  │laptop 2│  │no lead │  │no lead │\n"
                  "  │line dig│  │line dig│  │line dig│  │line dig│\n"
                  "  └─●────○─┘  └─●────○─┘  └─●────○─┘  └─●────○─┘\n"
                  "    │           │           │           ╎\n"
                  "    │           │           │           ╎\n"
                  "    │           │           │           ╎\n"
                  " ┌──●──○──○──┬──●──○──○──┬──●──○──○──┬──●──○──○──┐\n"
                  " │[lin]di ph │[lin]di ph │[lin]di ph │ lin di[ph]│\n"
                  " │ H3   line │ H1   line │ H2   line │ H4 ?      │\n"
                  " ├──── 1 ────┴──── 2 ────┴──── 3 ────┴──── 4 ────┤\n"
                  " │ M1                              no sound card │\n"
                  " └───────────────────────────────────────────────┘\n"
                  "         from the left, as the DJ sees it\n");
}
END_TEST

START_TEST(two_cables_crossed_and_a_deck_set_wrongly)
{
    check_picture(51, 20, true,
                  "host names from-1;p1.line > s2.line;p2.line x s1.line;"
                  "p3.line > s3.line;p4.line > s4.line;joined p1 p2 p3 p4;h1 wants s1;"
                  "h2 wants s2;h3 wants s3;h4 wants s4;h3 set 2 3",
                  "  +H2------+  +H1------+  +H3------+  +H4------+\n"
                  "  |  1/2   |  |  3/4   |  | 3/4 !  |  |  7/8   |\n"
                  "  |        |  |        |  | ->5/6  |  |        |\n"
                  "  +----+---+  +----+---+  +----+---+  +----+---+\n"
                  "  +P1--+---+  +P2--+---+  +P3--+---+  +P4--+---+\n"
                  "  |1st  1/2|  |2nd  3/4|  |3rd  5/6|  |4th  7/8|\n"
                  "  |computer|  |computer|  |computer|  |computer|\n"
                  "  |no lead |  |no lead |  |no lead |  |no lead |\n"
                  "  |line dig|  |line dig|  |line dig|  |line dig|\n"
                  "  +-@----o-+  +-@----o-+  +-@----o-+  +-@----o-+\n"
                  "    +-----+     #           :           |\n"
                  "    #=====|=====#           :           |\n"
                  "    #     +-----+           :           |\n"
                  "    x           |           :           |\n"
                  " +--@--o--o--+--@--o--o--+--@--o--o--+--@--o--o--+\n"
                  " |[lin]di ph |[lin]di ph |[lin]di ph |[lin]di ph |\n"
                  " | H1 ? +H3? | H2   line | H3 ? line | H4   line |\n"
                  " +---- 1 ----+---- 2 ----+---- 3 ----+---- 4 ----+\n"
                  " | M1                              no sound card |\n"
                  " +-----------------------------------------------+\n");
}
END_TEST

START_TEST(decks_on_the_mixers_card_pass_between_the_players)
{
    check_picture(51, 20, false,
                  "host names from-1;m1 card 8;p1.line > s1.line;p2.line > s2.line;"
                  "p3.line > s3.line;p4.line > s4.line;joined m1;m1 plugged host.2;"
                  "s1 selects usb;s2 selects usb;s3 selects usb;s4 in-use Robin;"
                  "p4 own-media;h1 wants s2;h2 wants s3;h3 wants s1;h4 wants s4",
                  "       ┌H3──────┐  ┌H1──────┐ ┌H2──────┐ ┌H4──────┐\n"
                  "       │  1/2   │  │  3/4   │ │  5/6   │ │no route│\n"
                  "       └────┬───┘  └─────┬──┘ └───────┬┘ └────────┘\n"
                  "            │            │            │\n"
                  " ┌P1──────┐ │ ┌P2──────┐ │ ┌P3──────┐ │ ┌P4──────┐\n"
                  " │not in  │ │ │not in  │ │ │not in  │ │ │not in  │\n"
                  " │computer│ │ │computer│ │ │computer│ │ │own     │\n"
                  " │no lead │ │ │no lead │ │ │no lead │ │ │no lead │\n"
                  " │line dig│ │ │line dig│ │ │line dig│ │ │line dig│\n"
                  " └─●────○─┘ │ └─●────○─┘ │ └─●────○─┘ │ └─●────○─┘\n"
                  "   ╎       ┌┘  ┌┘      ┌─┘ ┌╌┘     ┌──┘   │\n"
                  "   ╎       │   ╎       │   ╎       │   ┌──┘\n"
                  " ┌─●──○──○─●─┬─●──○──○─●─┬─●──○──○─●─┏━●━━○━━○━●━┓\n"
                  " │ li di p[u]│ li di p[u]│ li di p[u]┃[li]di p u ┃\n"
                  " │ H3    usb │ H1    usb │ H2    usb ┃ H4 ? line ┃\n"
                  " │           │           │           ┃used: Robin┃\n"
                  " ├──── 1 ────┴──── 2 ────┴──── 3 ────┗━━━━ 4 ━━━━┛\n"
                  " │ M1                    1st  1-8, laptop port 2 │\n"
                  " └───────────────────────────────────────────────┘\n"
                  "         from the left, as the DJ sees it\n");
}
END_TEST

START_TEST(an_interface_spreads_over_the_strips_it_feeds)
{
    check_picture(
        83, 22, false,
        "x1.o1 > s1.line;x1.o2 > s2.line;x1.o3 > s3.line;x1.o4 > s4.line;"
        "joined x1;h1 wants s1;h2 wants s2;h3 wants s3;h4 wants s4;"
        "host names by-device;t1.phono > s4.phono",
        "   ┌H1────────┐     ┌H2────────┐     ┌H3────────┐     ┌H4────────┐\n"
        "   │  X1 1/2  │     │  X1 3/4  │     │  X1 5/6  │     │  X1 7/8  │      host decks\n"
        "   └─────┬────┘     └─────┬────┘     └─────┬────┘     └─┬────────┘\n"
        "         │                │                │            │\n"
        "         │                │                │            │\n"
        "  ┌X1────┴────────────────┴────────────────┴────────────┴┐  ┌T1───────┐\n"
        "  │1st                                                   │  │no card  │ devices\n"
        "  │                                                      │  │         │\n"
        "  │no data lead                                          │  │         │\n"
        "  │ o1               o2               o3               o4│  │  phono  │\n"
        "  └─●────────────────●────────────────●────────────────●─┘  └────●────┘\n"
        "    │                │                │                │         │\n"
        "    │                │                │                │         │\n"
        "    │                │                │                │         │\n"
        "    │                │                │                │         │\n"
        " ┌──●────○────○───┬──●────○────○───┬──●────○────○───┬──●────○────●───┐\n"
        " │[line]dig phono │[line]dig phono │[line]dig phono │[line]dig phono │  strips\n"
        " │ H1             │ H2             │ H3             │ H4             │\n"
        " ├────── 1 ───────┴────── 2 ───────┴────── 3 ───────┴────── 4 ───────┤\n"
        " │ M1                                                  no sound card │\n"
        " └───────────────────────────────────────────────────────────────────┘\n"
        "                   from the left, as the DJ sees it\n");
}
END_TEST

START_TEST(what_is_split_doubled_one_sided_and_in_use)
{
    check_picture(51, 22, true,
                  "host names from-1;p1.line > s2.line;p2.line > s2.line;"
                  "p1.digital > s1.digital;p1.line l> s3.line;p3.line r> s3.phono;"
                  "t1.phono > s1.phono;s1 selects phono;joined p2 p1;h1 wants s2;"
                  "h2 wants s3;hub hub1 4;p3 own-media;p3 in-use Robin;p1 plugged hub1.2",
                  " +H2------+ +H1------+\n"
                  " |  3/4   | |  1/2   |\n"
                  " +----+---+ +----+---+\n"
                  " +P1--+---+ +P2--+---+ #P3======# +T1---+ +hub1-+\n"
                  " |2nd  3/4| |1st  1/2| #not in  # |     | |4 usb|\n"
                  " |computer| |computer| #own     # |     | |     |\n"
                  " |hub1 2  | |no lead | #no lead # |     | |port1|\n"
                  " |        | |        | #by Robin# |     | |     |\n"
                  " |line dig| |line dig| #line dig# |phono| |     |\n"
                  " +-@----@-+ +-@----o-+ #=@====o=# +--@--+ +-----+\n"
                  "   |    #     |          +-----+     #\n"
                  "   +----#-----|----------+     |     #\n"
                  "   +----#-----+          |     |     #\n"
                  "      #=#     |          |     |     #\n"
                  "      #  #====|==========|=====|=====#\n"
                  "      #  #    |          L     R\n"
                  " +-o--@--@--+-@--o--o--+-@--o--@--+\n"
                  " | li di[ph]|[li]di ph |[li]di ph |\n"
                  " | T1 phono | H1 +H2   | H2 ?     |\n"
                  " +--- 1 ----+--- 2 ----+--- 3 ----+\n"
                  " | M1               no sound card |\n"
                  " +--------------------------------+\n");
}
END_TEST

START_TEST(eight_by_eight_scrolls)
{
    check_picture(51, 20, true,
                  "p1.line > s1.line;h1 wants s1;p2.line > s2.line;h2 wants s2;"
                  "p3.line > s3.line;h3 wants s3;p4.line > s4.line;h4 wants s4;"
                  "p5.line > s5.line;h5 wants s5;p6.line > s6.line;h6 wants s6;"
                  "p7.line > s7.line;h7 wants s7;p8.line > s8.line;h8 wants s8;"
                  "joined p1 p2 p3 p4 p5 p6 p7 p8",
                  " +H1------+  +H2------+  +H3------+  +H4------+  +H\n"
                  " |  0/1   |  |  2/3   |  |  4/5   |  |  6/7   |  |\n"
                  " +----+---+  +----+---+  +----+---+  +----+---+  +-\n"
                  "      |           |           |           |\n"
                  " +P1--+---+  +P2--+---+  +P3--+---+  +P4--+---+  +P\n"
                  " |1st  0/1|  |2nd  2/3|  |3rd  4/5|  |4th  6/7|  |5\n"
                  " |computer|  |computer|  |computer|  |computer|  |c\n"
                  " |no lead |  |no lead |  |no lead |  |no lead |  |n\n"
                  " |line dig|  |line dig|  |line dig|  |line dig|  |l\n"
                  " +-@----o-+  +-@----o-+  +-@----o-+  +-@----o-+  +>\n"
                  "   |           |           |           |\n"
                  "   |           |           |           |\n"
                  "   |           |           |           |\n"
                  "+--@--o--o--+--@--o--o--+--@--o--o--+--@--o--o--+--\n"
                  "|[lin]di ph |[lin]di ph |[lin]di ph |[lin]di ph |[l\n"
                  "| H1   line | H2   line | H3   line | H4   line | H\n"
                  "+---- 1 ----+---- 2 ----+---- 3 ----+---- 4 ----+--\n"
                  "| M1\n"
                  "+--------------------------------------------------\n"
                  "         from the left, as the DJ sees it\n");
}
END_TEST

static const char two[] =
    "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2";

/* Two players with marks, in a window of that size. */
static void check_marks(const struct canvas_marks *m, const char *expected)
{
    char *text = picture(booth_from(two), grid_new(27, 18, true), m);
    ck_assert_msg(strcmp(text, expected) == 0, "expected\n%sbut it is\n%s", expected, text);
    mem_free(text);
}

START_TEST(what_is_in_hand_is_heavy_and_where_it_goes_is_dashed)
{
    struct canvas_marks m = {.carried = spot_of(SPOT_DECK, "h1"),
                             .target = spot_of(SPOT_STRIP, "s2"),
                             .selected = spot_of(SPOT_OUTPUT, "p1.line")};
    check_marks(&m, " #H1=======#  +H2-------+\n"
                    " #   0/1   #  |   2/3   |\n"
                    " #====#====#  +----+----+\n"
                    "      |            |\n"
                    " +P1--+----+  +P2--+----+\n"
                    " |1st  0/1 |  |2nd  2/3 |\n"
                    " |computer |  |computer |\n"
                    " |no lead  |  |no lead  |\n"
                    " |line dig |  |line dig |\n"
                    " +-#----o--+  +-@----o--+\n"
                    "   |            |\n"
                    "+--@---o--o--+~~@~~~o~~o~~+\n"
                    "|[lin]dig ph :[lin]dig ph :\n"
                    "| H1    line : H2    line :\n"
                    "+---- 1 -----+~~~~ 2 ~~~~~+\n"
                    "| M1        no sound card |\n"
                    "+-------------------------+\n"
                    "     as the DJ sees it\n");
}
END_TEST

START_TEST(what_a_fault_names_has_an_exclamation_mark)
{
    char h2[] = "h2", s1[] = "s1", out[] = "p2.line", in[] = "s2.line", m1[] = "m1";
    char *names[] = {h2, s1, out, in, m1};
    struct texts named = {names, 5};
    struct canvas_marks m = {.named = &named};
    check_marks(&m, " +H1-------+  +H2------!+\n"
                    " |   0/1   |  |   2/3   |\n"
                    " +----+----+  +----+----+\n"
                    "      |            |\n"
                    " +P1--+----+  +P2--+----+\n"
                    " |1st  0/1 |  |2nd  2/3 |\n"
                    " |computer |  |computer |\n"
                    " |no lead  |  |no lead  |\n"
                    " |line dig |  |line dig |\n"
                    " +-@----o--+  +-!----o--+\n"
                    "   |            |\n"
                    "+--@---o--o--+--!---o--o--+\n"
                    "|[lin]dig ph |[lin]dig ph |\n"
                    "| H1    line | H2    line |\n"
                    "+!--- 1 -----+---- 2 -----+\n"
                    "| M1        no sound card |\n"
                    "+------------------------!+\n"
                    "     as the DJ sees it\n");
}
END_TEST

START_TEST(wide_and_wild_labels_stay_in_their_boxes)
{
    struct booth *b = booth_from(two);
    text_set(&b->decks.v[0].label, "\xe5\xb7\xa6\xe3\x81\xae\xe5\x8d\x93\xe5\xb7\xa6\xe3\x81\xae");
    text_set(&b->decks.v[1].label, "a bell\a and more of it");
    text_set(&b->devices.v[0].label, "e\xcc\x81\xe2\x80\xae turned");
    text_set(&b->devices.v[1].label, "\xe5\xb7\xa6\xe3\x81\xae\xe5\x8d\x93");
    char *text = picture(b, grid_new(27, 18, false), NULL);
    ck_assert_str_eq(text, " ┌左の卓左~┐  ┌a bell~──┐\n"
                           " │   0/1   │  │   2/3   │\n"
                           " └────┬────┘  └────┬────┘\n"
                           "      │            │\n"
                           " ┌é<202E> ~┐  ┌P2──┴────┐\n"
                           " │1st  0/1 │  │2nd  2/3 │\n"
                           " │computer │  │computer │\n"
                           " │no lead  │  │no lead  │\n"
                           " │line dig │  │line dig │\n"
                           " └─●────○──┘  └─●────○──┘\n"
                           "   │            │\n"
                           "┌──●───○──○──┬──●───○──○──┐\n"
                           "│[lin]dig ph │[lin]dig ph │\n"
                           "│ 左の卓左の │ a bell<07>~│\n"
                           "├──── 1 ─────┴──── 2 ─────┤\n"
                           "│ 左の卓    no sound card │\n"
                           "└─────────────────────────┘\n"
                           "     as the DJ sees it\n");
    mem_free(text);
}
END_TEST

Suite *test_canvas_pictures(void)
{
    Suite *s = suite_create("ui/canvas, pictures");
    TCase *t = tcase_create("pictures");
    tcase_add_test(t, a_tidy_booth_beside_a_pane);
    tcase_add_test(t, two_cables_crossed_and_a_deck_set_wrongly);
    tcase_add_test(t, decks_on_the_mixers_card_pass_between_the_players);
    tcase_add_test(t, an_interface_spreads_over_the_strips_it_feeds);
    tcase_add_test(t, what_is_split_doubled_one_sided_and_in_use);
    tcase_add_test(t, eight_by_eight_scrolls);
    tcase_add_test(t, what_is_in_hand_is_heavy_and_where_it_goes_is_dashed);
    tcase_add_test(t, what_a_fault_names_has_an_exclamation_mark);
    tcase_add_test(t, wide_and_wild_labels_stay_in_their_boxes);
    suite_add_tcase(s, t);
    return s;
}
