/* For every rule, in their order: worlds that have the fault, and worlds that nearly have it. */
#include "engine/fault_cases.h"

#include <stddef.h>

const struct fault_case fault_cases[] = {
    {"own-media", "p1.line > s1.line; joined p1; p1 own-media; h1 wants s1",
     "h1 p1: H1 wants strip 1 through P1, but P1 is on its own media -> switch P1 to the computer"},
    {"own-media", "p1.line > s1.line; p1 own-media; h1 wants s1", ""},
    {"own-media", "p1.line > s1.line; joined p1; p1 own-media; p1 in-use Robin; h1 wants s1",
     "h1 p1: H1 wants strip 1 through P1, but P1 is on its own media -> P1 is in use by Robin: ask "
     "before you switch P1 to the computer (advice)"},
    {"own-media", "p1.line > s1.line; p2.line > s1.line; joined p2 p1; p1 own-media; h1 wants s1",
     ""},
    {"selector-elsewhere", "p4.line > s4.line; joined p4; s4 selects phono; h4 wants s4",
     "h4 s4 s4.line: H4 wants strip 4, but its selector stands on phono, not on line -> turn strip "
     "4's selector to line"},
    {"selector-elsewhere",
     "p4.line > s4.line; joined p4; s4 selects phono; s4 in-use Robin; h4 wants s4",
     "h4 s4 s4.line: H4 wants strip 4, but its selector stands on phono, not on line -> strip 4 is "
     "in use by Robin: ask before you turn strip 4's selector to line (advice)"},
    {"selector-elsewhere", "p4.line > s4.line; s4 selects phono; h4 wants s4", ""},
    {"not-joined", "p2.line > s2.line; joined p1; h1 wants s2",
     "h1 s2 p2: H1 wants strip 2, but P2, which feeds it, is not in the interface -> join P2, "
     "after the others"},
    {"not-joined", "p1.line > s1.line; p2.line > s2.line; joined p2; h1 wants s1; h2 wants s2",
     "h1 s1 p1: H1 wants strip 1, but P1, which feeds it, is not in the interface -> join P1 "
     "first"},
    {"not-joined", "p1.line > s1.line; p2.line > s2.line; joined p2; h1 wants s1; h2 set 0 1",
     "h1 s1 p1: H1 wants strip 1, but P1, which feeds it, is not in the interface -> join P1, "
     "after the others"},
    {"not-joined", "m1 card 8; h1 wants s1; s1 selects usb",
     "h1 s1 m1: H1 wants strip 1, but M1, which feeds it, is not in the interface -> join M1"},
    {"not-joined", "m1 card 8; h1 wants s1; s1 selects usb; s1.usb socket B", ""},
    {"not-joined", "t1.phono > s1.phono; s1 selects phono; h1 wants s1", ""},
    {"unwired-strip", "joined p1; h1 wants s1",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> run a cable from "
     "P1's line output to strip 1's line input"},
    {"unwired-strip", "h1 wants s1",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> lead a device with a "
     "sound card into it, or let the deck want another strip (advice)"},
    {"unwired-strip", "t1.phono > s1.line; joined p1; h1 wants s1",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> run a cable from "
     "P1's digital output to strip 1's digital input and turn strip 1's selector to digital"},
    {"unwired-strip", "joined p1; h1 wants s1; p1.line > s2.line",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> run a cable from "
     "P1's digital output to strip 1's digital input and turn strip 1's selector to digital"},
    {"unwired-strip", "joined p1; h1 wants s1; p1.line > s2.line; h2 wants s2",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> lead a device with a "
     "sound card into it, or let the deck want another strip (advice)"},
    {"unwired-strip", "joined p1 p2; h2 wants s2; h2 set 2 3; p1.line > s1.line; h1 wants s1",
     "h2 s2: H2 wants strip 2, but nothing in the interface is wired to it -> run a cable from "
     "P2's line output to strip 2's line input"},
    {"unwired-strip",
     "joined p1 p2; p1.line > s2.line; h2 wants s2; h2 set 2 3; h1 wants s1; h1 set 0 1",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> run a cable from "
     "P2's line output to strip 1's line input"},
    {"unwired-strip", "joined p1 p2; h1 wants s1; h2 set 0 1",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> run a cable from "
     "P2's line output to strip 1's line input"},
    {"unwired-strip", "joined p1; h1 wants s1; s1 in-use Robin",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> strip 1 is in use by "
     "Robin: ask before you run a cable from P1's line output to strip 1's line input (advice)"},
    {"unwired-strip",
     "joined x1; h1 wants s1; s1.line switch line phono; s1.phono switch phono line; t1.phono > "
     "s1.line; t1.phono > s1.digital",
     "h1 s1: H1 wants strip 1, but nothing in the interface is wired to it -> run a cable from "
     "X1's o1 output to strip 1's phono input, turn the switch of strip 1's phono input to line "
     "and turn strip 1's selector to phono"},
    {"unwired-strip", "joined p1; p1.digital l> s1.line; h1 wants s1; p1 own-media", ""},
    {"unwired-strip", "joined m1; m1 card 8; s1 selects usb; h1 wants s1", ""},
    {"doubled-strip", "h1 wants s1; h2 wants s1",
     "h1 h2 s1: H1 and H2 both want strip 1 -> leave H2 undecided"},
    {"doubled-strip",
     "p1.line > s1.line; p2.line > s2.line; p3.line > s3.line; joined p1 p2 p3; h1 wants s1; h2 "
     "wants s1; h3 wants s1; h2 set 0 1",
     "h1 h2 h3 s1: H1, H2 and H3 all want strip 1 -> let H2 be heard on strip 2, set H2 to pair "
     "2/3 and let H3 be heard on strip 3"},
    {"doubled-strip", "h1 wants s1; h2 wants s2", ""},
    {"doubled-pair", "joined p1; h1 set 0 1; h2 set 1 2",
     "h1 h2: H1 and H2 overlap: they play to pair 0/1 and pair 1/2 -> take back the setting of H2"},
    {"doubled-pair", "h1 set 7 8; h2 set 7 8",
     "h1 h2: H1 and H2 both play to pair 7/8 -> take back the setting of H2"},
    {"doubled-pair",
     "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2; h2 set 0 1",
     "h1 h2: H1 and H2 both play to pair 0/1 -> set H2 to pair 2/3"},
    {"doubled-pair",
     "p1.line > s1.line; p1.digital > s2.digital; s2 selects digital; joined p1; h1 wants s1; h2 "
     "wants s2",
     "h1 h2: H1 and H2 both play to pair 0/1 -> leave H2 undecided"},
    {"doubled-pair", "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2",
     ""},
    {"stale-setting", "p1.line > s1.line; joined p1 p2; h1 wants s1; h1 set 2 3",
     "h1: H1 is set to pair 2/3, but strip 1 is pair 0/1 -> set H1 to pair 0/1"},
    {"stale-setting",
     "p1.line > s1.line; joined p1 p2; h1 wants s1; h1 set 0 1; h2 wants s2; h2 set 2 3", ""},
    {"no-such-channel", "joined p1; h1 set 1 2",
     "h1: H1 is set to pair 1/2, which the interface does not have -> take back the setting of H1"},
    {"no-such-channel", "p1.line > s1.line; joined p1; h1 wants s1; h1 set 4 5; host names from-1",
     "h1: H1 is set to pair 5/6, which the interface does not have -> set H1 to pair 1/2"},
    {"no-such-channel", "joined p1; h1 set 0 1", ""},
    {"no-such-channel", "h1 set 0 1",
     "h1: H1 is set to pair 0/1, which the interface does not have -> take back the setting of H1"},
    {"no-such-channel", "joined p1; h1 set 2 1",
     "h1: H1 is set to pair 2/1, which the interface does not have -> take back the setting of H1"},
    {"straddled-pair", "joined p1 p2; h1 set 1 2",
     "h1: H1 is set to pair 1/2, whose two sides leave by no one output together -> take back the "
     "setting of H1"},
    {"straddled-pair", "joined p1 p2; h1 set 0 1; h2 set 2 2; h3 set 3 2", ""},
    {"straddled-pair", "joined x1; h1 set 1 2",
     "h1: H1 is set to pair 1/2, whose two sides leave by no one output together -> take back the "
     "setting of H1"},
    {"straddled-pair", "m1 card 8; s1 selects usb; s1.usb socket B; joined m1; h1 set 0 1", ""},
    {"straddled-pair", "joined p1 p2; h1 set 0 3",
     "h1: H1 is set to pair 0/3, whose two sides leave by no one output together -> take back the "
     "setting of H1"},
    /* that some hosts combine and others do not: common practice, no source */
    {"cannot-combine", "joined p1 p2",
     "p1 p2: the laptop cannot combine P1 and P2 into one interface -> take P2 out of the "
     "interface"},
    {"cannot-combine", "joined p1 p2; host combining by-driver; p1 family dunlin; p2 family plover",
     "p1 p2: the driver combines cards of one family only, but P1 is dunlin and P2 is plover -> "
     "take P2 out of the interface"},
    {"cannot-combine", "joined p1 p2; host combining by-driver; p1 family dunlin",
     "p1 p2: the driver combines cards of one family only, but P1 is dunlin and P2 is of no family "
     "told -> take P2 out of the interface"},
    {"cannot-combine", "joined p1 p2; host combining by-driver; p1 family dunlin; p2 family dunlin",
     ""},
    {"cannot-combine", "joined p1 p2; host combining by-hand", ""},
    {"cannot-combine", "joined p1", ""},
    {"cannot-combine", "p2.line > s2.line; joined p1 p2; h1 wants s2; h1 set 2 3",
     "p1 p2: the laptop cannot combine P1 and P2 into one interface -> take P1 out of the "
     "interface and set H1 to pair 0/1"},
    {"device-in-use", "joined p1; p1 in-use Robin",
     "p1: P1 is in the interface, but in use by Robin -> take P1 out of the interface"},
    {"device-in-use", "joined p1; p2 in-use Robin", ""},
    /* 52.0 dB: 20 log10(2 V / 5 mV); line's full scale of 2 V rms after IEC 61938 (nominal 0.5 V,
     * maximum 12 dB above it), phono's nominal 5 mV at 1 kHz, 5 cm/s: common practice, no source */
    {"level-mismatch", "p1.line > s1.phono",
     "p1.line s1.phono: the cable from P1's line output to strip 1's phono input takes line into a "
     "phono input: 52.0 dB too loud -> move the plug of P1's line output to strip 1's line input"},
    {"level-mismatch", "t1.phono > s1.line",
     "t1.phono s1.line: the cable from T1's phono output to strip 1's line input takes phono into "
     "a line input: 52.0 dB too quiet -> move the plug of T1's phono output to strip 1's phono "
     "input and turn strip 1's selector to phono"},
    {"level-mismatch", "p1.digital > s1.line",
     "p1.digital s1.line: the cable from P1's digital output to strip 1's line input takes digital "
     "into an analogue input: nothing passes -> move the plug of P1's digital output to strip 1's "
     "digital input and turn strip 1's selector to digital"},
    {"level-mismatch", "p1.line > s1.digital; p2.line > s1.line",
     "p1.line s1.digital: the cable from P1's line output to strip 1's digital input takes an "
     "analogue output into a digital input: nothing passes -> feed strip 1's "
     "digital input from P1's digital output instead of P1's line output"},
    {"level-mismatch", "p1.line > s1.phono; s1.phono switch phono line",
     "p1.line s1.phono: the cable from P1's line output to strip 1's phono input takes line into a "
     "phono input: 52.0 dB too loud -> turn the switch of strip 1's phono input to line"},
    {"level-mismatch", "p1.line > s1.line; p1.digital > s1.digital; t1.phono > s1.phono", ""},
    {"level-mismatch", "p1.line carries 1; p1.digital > s1.line; p2.digital > s1.digital",
     "p1.digital s1.line: the cable from P1's digital output to strip 1's line input takes digital "
     "into an analogue input: nothing passes -> lead it into an input of its own kind (advice)"},
    {"doubled-input", "p1.line > s1.line; p2.line > s1.line",
     "s1.line: strip 1's line input has 2 cables: from P1's line output and P2's line output -> "
     "take away the cable from P2's line output to strip 1's line input"},
    {"doubled-input", "p1.line > s1.line; p2.line > s1.line; p2 in-use Robin",
     "s1.line: strip 1's line input has 2 cables: from P1's line output and P2's line output -> "
     "take away the cable from P1's line output to strip 1's line input"},
    {"doubled-input", "p1.line > s1.line; p2.line > s1.line; s1 in-use Robin",
     "s1.line: strip 1's line input has 2 cables: from P1's line output and P2's line output -> "
     "ask whose cable may be pulled: more than one is in use (advice)"},
    {"doubled-input", "p1.line > s1.line; p1.digital > s1.digital", ""},
    {"doubled-input", "p1.line > s1.line; p2.line > s1.line; joined p2 p1; h1 wants s1",
     "s1.line: strip 1's line input has 2 cables: from P1's line output and P2's line output -> "
     "take away the cable from P1's line output to strip 1's line input"},
    {"doubled-input",
     "p1.line > s1.line; p2.line > s1.line; joined p1 p2; h1 wants s1; s1 selects phono",
     "s1.line: strip 1's line input has 2 cables: from P1's line output and P2's line output -> "
     "take away the cable from P2's line output to strip 1's line input"},
    {"no-common-rate", "joined p1 p2; p1 rates 44100 96000; p2 rates 44100 48000",
     "p1: P1 cannot run at 48 kHz; all in the interface can run at 44.1 kHz -> set the rate to "
     "44.1 kHz"},
    {"no-common-rate", "joined p1 p2; p1 rates 96000",
     "p1: P1 cannot run at 48 kHz, and no one rate suits all in the interface -> leave one of them "
     "out of the interface, or take another way into the mixer (advice)"},
    {"no-common-rate", "joined p1; p2 rates 96000", ""},
    {"no-common-rate", "joined p1 p2; host rate_hz 96000",
     "p1: P1 cannot run at 96 kHz; all in the interface can run at 44.1 kHz and 48 kHz -> set the "
     "rate to 48 kHz\np2: P2 cannot run at 96 kHz; all in the interface can run at 44.1 kHz and 48 "
     "kHz -> set the rate to 48 kHz"},
    {"dead-side", "p1.line l> s1.line; h1 wants s1",
     "p1.line s1.line: the cable from P1's line output to strip 1's line input passes its left "
     "side only -> put the cable from P1's line output to strip 1's line input right: left to "
     "left, right to right"},
    {"dead-side", "p1.line l> s1.line; h1 wants s1; s1 selects phono", ""},
    {"dead-side", "p1.line l> s1.line; h1 wants s2", ""},
    {"swapped-sides", "p1.line x s1.line; h1 wants s1",
     "p1.line s1.line: the cable from P1's line output to strip 1's line input exchanges left and "
     "right -> put the cable from P1's line output to strip 1's line input right: left to left, "
     "right to right"},
    {"swapped-sides", "t1.phono x s1.phono; s1 selects phono; h1 wants s1",
     "t1.phono s1.phono: the cable from T1's phono output to strip 1's phono input exchanges left "
     "and right -> put the cable from T1's phono output to strip 1's phono input right: left to "
     "left, right to right"},
    {"swapped-sides", "p1.line x s1.line", ""},
    {"unplugged", "joined p1",
     "p1: P1 is in the interface, but plugged in nowhere -> plug P1 into port 1 of the laptop"},
    {"unplugged", "joined p1; p1 plugged host.1", ""},
    {"unplugged", "joined x1; x1 plugged built-in", ""},
    {"unplugged", "hub hub1 4 none; p1 plugged hub1.1; p2 plugged hub1.2",
     "hub1: P1 and P2 hang on hub1, which is plugged in nowhere -> plug hub1 into port 1 of the "
     "laptop"},
    {"unplugged", "hub hub1 4 none", ""},
    {"unplugged", "joined p1; host usb_ports 1; p2 plugged host.1",
     "p1: P1 is in the interface, but plugged in nowhere -> free a port that can feed it, or add a "
     "hub with its own supply (advice)"},
    {"usb-ports", "p1 plugged host.1; p2 plugged host.1",
     "host p1 p2: P1 and P2 share port 1 of the laptop -> plug P2 into port 2 of the laptop"},
    {"usb-ports", "p1 plugged host.3",
     "host p1: P1 is in port 3 of the laptop, which has 2 -> plug P1 into port 1 of the laptop"},
    {"usb-ports", "hub hub1 2; p1 plugged hub1.3",
     "hub1 p1: P1 is in port 3 of hub1, which has 2 -> plug P1 into port 2 of the laptop"},
    {"usb-ports", "p1 plugged host.1; p2 plugged host.2", ""},
    {"usb-ports", "p1 plugged host.1; p2 plugged host.1; p2 in-use Robin",
     "host p1 p2: P1 and P2 share port 1 of the laptop -> plug P1 into port 2 of the laptop"},
    {"usb-ports", "hub hub1 4; hub hub2 4 host.1",
     "host hub1 hub2: hub1 and hub2 share port 1 of the laptop -> plug hub2 into port 2 of the "
     "laptop"},
    {"usb-ports", "p1 plugged host.1; p2 plugged host.1; p3 plugged host.1; host usb_ports 4",
     "host p1 p2 p3: P1, P2 and P3 share port 1 of the laptop -> plug P2 into port 2 of the laptop "
     "and plug P3 into port 3 of the laptop"},
    {"usb-ports",
     "p1 plugged host.1; p2 plugged host.1; p3 plugged hub1.1; hub hub1 4 host.2; host usb_ports 3",
     "host p1 p2: P1 and P2 share port 1 of the laptop -> plug P2 into port 3 of the laptop"},
    /* at most five hubs between host and device: USB 2.0, 4.1.1 */
    {"usb-depth",
     "hub hub1 4; hub hub2 4 hub1.1; hub hub3 4 hub2.1; hub hub4 4 hub3.1; hub hub5 4 hub4.1; hub "
     "hub6 4 hub5.1; p1 plugged hub6.1",
     "p1: P1 hangs behind 6 hubs, and a laptop reaches through 5 at most -> plug P1 into port 2 of "
     "the laptop"},
    {"usb-depth",
     "hub hub1 4; hub hub2 4 hub1.1; hub hub3 4 hub2.1; hub hub4 4 hub3.1; hub hub5 4 hub4.1; p1 "
     "plugged hub5.1",
     ""},
    /* 100 mA at the port of a bus-powered hub with at most four ports, 500 mA at any other:
     * USB 2.0, 7.2.1 */
    {"usb-power", "x1 plugged host.1; x1 self_powered 0; x1 max_power_ma 501",
     "host x1: X1 needs 501 mA, and a port of the laptop gives 500 mA -> take a hub with its own "
     "supply, or a port that gives more (advice)"},
    {"usb-power", "x1 plugged host.1; x1 self_powered 0; x1 max_power_ma 500", ""},
    {"usb-power", "x1 plugged hub1.1; hub hub1 4; x1 self_powered 0; x1 max_power_ma 101",
     "hub1 x1: X1 needs 101 mA, and a port of hub1 gives 100 mA -> plug X1 into port 2 of the "
     "laptop"},
    {"usb-power",
     "x1 plugged hub1.1; hub hub1 4 host.1 self_powered 1; x1 self_powered 0; x1 max_power_ma 500",
     ""},
    {"usb-power", "hub hub1 4; hub hub2 4 hub1.1",
     "hub1 hub2: hub2 has no supply of its own and hangs on hub1, which has none either -> plug "
     "hub2 into port 2 of the laptop"},
    {"usb-power",
     "hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; p3 plugged hub1.3; p4 plugged hub1.4; p5 "
     "plugged hub1.5",
     "host hub1: hub1 has no supply of its own, and can feed 4 things, not 5 -> plug P5 into port "
     "2 of the laptop"},
    {"usb-power",
     "hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; p3 plugged hub1.3; p4 plugged hub1.4", ""},
    {"usb-power",
     "hub hub1 7; p1 plugged hub1.1; p2 plugged hub1.2; p3 plugged hub1.3; p4 plugged hub1.4; p5 "
     "plugged hub1.5; host usb_ports 1",
     "host hub1: hub1 has no supply of its own, and can feed 4 things, not 5 -> take a hub with "
     "its own supply, or a port that gives more (advice)"},
    /* 96 kHz, stereo, 24 bit in and out at full speed: packets of 97 frames, 582 bytes; more than
     * 90 percent of a frame: USB 2.0, 5.6.4; 1023 bytes at most: 5.6.3 */
    {"usb-bandwidth",
     "joined p1; p1 plugged host.1; p1 speed full; host rate_hz 96000; p1 rates 96000; p1 "
     "in_channels 2",
     "host p1: P1 asks more of the laptop than full-speed USB carries: 924 of 900 microseconds in "
     "each frame -> run at a lower rate, or plug some of them in elsewhere (advice)"},
    {"usb-bandwidth", "joined p1; p1 plugged host.1; p1 speed full; p1 in_channels 2", ""},
    {"usb-bandwidth", "joined x1; x1 plugged host.1; x1 speed full",
     "host x1: X1 asks more of the laptop than full-speed USB carries: packets of 1176 bytes, not "
     "1023 -> run at a lower rate, or plug some of them in elsewhere (advice)"},
    {"usb-bandwidth",
     "joined p1; p1 plugged hub1.1; hub hub1 4; p1 speed full; host rate_hz 96000; p1 rates 96000; "
     "p1 in_channels 2; p2 plugged hub1.2",
     "hub1 p1: P1 asks more of hub1 than full-speed USB carries: 924 of 900 microseconds in each "
     "frame -> run at a lower rate, or plug some of them in elsewhere (advice)"},
    {"usb-bandwidth",
     "joined p1 p2; p1 plugged hub1.1; p2 plugged hub1.2; hub hub1 4; p1 speed full; p2 speed "
     "full; p1 in_channels 2; p2 in_channels 2",
     "hub1 p1 p2: P1 and P2 ask more of hub1 than full-speed USB carries: 950 of 900 microseconds "
     "in each frame -> run at a lower rate, or plug some of them in elsewhere (advice)"},
    {"usb-bandwidth",
     "joined p1 p2; p1 plugged hub1.1; p2 plugged hub1.2; hub hub1 4 host.1 multi_tt 1; p1 speed "
     "full; p2 speed full; p1 in_channels 2; p2 in_channels 2",
     ""},
    {"usb-bandwidth",
     "joined x1 x2; x1 plugged host.1; x2 plugged host.2; x1 bits 32; x2 bits 32; x1 rates 192000; "
     "x2 rates 192000; host rate_hz 192000; x1 card 64; x2 card 60; x1 in_channels 60; x2 "
     "in_channels 60",
     "host x1 x2: X1 and X2 ask more of the laptop than high-speed USB carries: packets of 6400 "
     "bytes, not 3072 -> run at a lower rate, or plug some of them in elsewhere (advice)"},
    {"usb-bandwidth",
     "joined x1 x2; x1 plugged host.1; x2 plugged host.2; host usb_buses 2; x1 bits 32; x2 bits "
     "32; x1 rates 192000; x2 rates 192000; host rate_hz 192000; x1 card 30; x2 card 30; x1 "
     "in_channels 30; x2 in_channels 30",
     "host x1: X1 asks more of the laptop than high-speed USB carries: 121 of 100 microseconds in "
     "each microframe -> run at a lower rate, or plug some of them in elsewhere (advice)\nhost x2: "
     "X2 asks more of the laptop than high-speed USB carries: 121 of 100 microseconds in each "
     "microframe -> run at a lower rate, or plug some of them in elsewhere (advice)"},
    {"usb-bandwidth",
     "joined x1 x2; x1 plugged host.1; x2 plugged host.2; x1 bits 32; x2 bits 32; x1 rates 192000; "
     "x2 rates 192000; host rate_hz 192000; x1 card 30; x2 card 30; x1 in_channels 30; x2 "
     "in_channels 30",
     "host x1 x2: X1 and X2 ask more of the laptop than high-speed USB carries: 242 of 100 "
     "microseconds in each microframe -> run at a lower rate, or plug some of them in elsewhere "
     "(advice)"},
    {"strip-in-use",
     "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h1 set 0 1; s1 in-use Robin",
     "h1 s1: H1 wants strip 1, but it is in use by Robin -> let H1 be heard on strip 2 and set H1 "
     "to pair 2/3"},
    {"strip-in-use", "p1.line > s1.line; joined p1; h1 wants s1; s1 in-use Robin",
     "h1 s1: H1 wants strip 1, but it is in use by Robin -> ask when strip 1 will be free: it is "
     "in use by Robin (advice)"},
    {"strip-in-use", "h1 wants s1; s2 in-use Robin", ""},
    {"no-control", "h1 by p1",
     "h1 p1: P1 controls H1, but it is plugged in nowhere -> plug P1 into port 1 of the laptop"},
    {"no-control", "h1 by p1; p1 own-media",
     "h1 p1: P1 controls H1, but it is plugged in nowhere and on its own media -> plug P1 into "
     "port 1 of the laptop and switch P1 to the computer"},
    {"no-control", "h1 by p1; p1 own-media; p1 plugged host.1",
     "h1 p1: P1 controls H1, but it is on its own media -> switch P1 to the computer"},
    {"no-control", "h1 by p1; p1 plugged host.1; h2 by t1; h3 by c1; c1 plugged host.2", ""},
    {"no-control", "h1 by c1",
     "h1 c1: C1 controls H1, but it is plugged in nowhere -> plug C1 into port 1 of the laptop"},
    /* that players join from the left: common practice, no source */
    {"order-against-place", "joined p2 p1",
     "p2 p1: the players joined in the order P2, P1, which is not how they stand from the left -> "
     "join the players in their order from the left"},
    {"order-against-place",
     "p1.line > s1.line; p2.line > s2.line; joined p2 p1; h1 wants s1; h1 set 2 3; h2 wants s2; h2 "
     "set 5 5; host names by-device",
     "p2 p1: the players joined in the order P2, P1, which is not how they stand from the left -> "
     "join the players in their order from the left and set H1 to pair P1 L/R"},
    {"order-against-place", "joined p1 p2; p2 place 1",
     "p1 p2: P1 and P2 are told to stand in the same place, so nobody can join them from the left "
     "-> look where the players stand, and give each a place of its own (advice)"},
    {"order-against-place", "joined p1 p2 p4", ""},
    {"order-against-place", "joined x2 p1 x1 p2", ""},
    {"order-against-place",
     "x1 place 9; joined x1 p2 p1; p1.line > s1.line; h1 wants s1; h1 set 10 11",
     "x1 p2 p1: the players joined in the order P2, P1, which is not how they stand from the left "
     "-> join the players in their order from the left and set H1 to pair 8/9"},
    /* that the cards' outputs follow each other without a gap: common practice, no source */
    {"odd-card", "p1 card 3; joined p1 p2",
     "p1: P1 brings an odd number (3) into the interface, so every pair after it is shifted by one "
     "-> join P1, after the others"},
    {"odd-card", "p1 card 3; joined p1 p2; p2.line > s1.line; h1 wants s1; h1 set 3 4",
     "p1: P1 brings an odd number (3) into the interface, so every pair after it is shifted by one "
     "-> join P1, after the others and set H1 to pair 0/1"},
    {"odd-card", "p1 card 3; joined p2 p1", ""},
    {"odd-card",
     "p1 card 3; joined p1 p2; p2.line > s1.line; h1 wants s1; h1 set 3 4; host names by-device",
     "p1: P1 brings an odd number (3) into the interface, so every pair after it is shifted by one "
     "-> join P1, after the others and set H1 to pair P2 L/R"},
    /* that a player controls the deck it sounds: common practice, no source */
    {"crossed-control", "p1.line > s1.line; p2 plugged host.1; joined p1; h1 wants s1; h1 by p2",
     "h1 p2 p1: P2 controls H1, but H1 comes out through P1 -> let P1 control H1"},
    {"crossed-control",
     "p1.line > s1.line; joined p1; h1 wants s1; h1 by p1; h2 by p2; h2 wants s2", ""},
    {"crossed-control", "p1.line > s1.line; joined p1; h1 wants s1; h1 by c1", ""},
    {"doubled-control", "h1 by p1; h2 by p1",
     "p1 h1 h2: P1 controls H1 and H2 both -> let nothing control H2"},
    {"doubled-control",
     "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s2; h2 wants s1; h1 by p1; h2 "
     "by p1; h3 by p1",
     "p1 h1 h2 h3: P1 controls H1, H2 and H3 all at once -> let P2 control H1 and let nothing "
     "control H3"},
    {"doubled-control", "h1 by c1; h2 by c1", ""},
    {"doubled-control", "h1 by p1; h2 by p2", ""},
    {"doubled-control",
     "p1.line > s1.line; p2.line > s2.line; joined p1 p2; h1 wants s1; h2 wants s2; h1 by p2; h2 "
     "by p2",
     "p2 h1 h2: P2 controls H1 and H2 both -> let P1 control H1"},
    {"split-output", "p1.line > s1.line; p1.line > s2.line; h1 wants s2",
     "p1.line: P1's line output is split: it goes to strip 1's line input and strip 2's line input "
     "-> take away the cable from P1's line output to strip 1's line input"},
    {"split-output", "p1.line > s1.line; p1.line > s2.line; h1 wants s2; h2 wants s1",
     "p1.line: P1's line output is split: it goes to strip 1's line input and strip 2's line input "
     "-> leave it only if the same sound is meant to be at each of them (advice)"},
    {"split-output", "p1.line > s1.line; p1.line > s2.line; s2 in-use Robin",
     "p1.line: P1's line output is split: it goes to strip 1's line input and strip 2's line input "
     "-> take away the cable from P1's line output to strip 1's line input"},
    {"split-output", "p1.line > s1.line; p1.digital > s1.digital", ""},
    {"old-firmware", "p1 firmware 1.9 1.10",
     "p1: P1 has firmware 1.9, older than the 1.10 that it needs -> accept it, or take another way "
     "into the mixer: whether to update is for the house to decide, and never in a live room "
     "(advice)"},
    {"old-firmware", "p1 firmware 1.10 1.9", ""},
    {"old-firmware", "p1 firmware 1.9 1.9.0", ""},
    /* rate * (ppmA + ppmB) / 1e6 samples a second: two clocks of IEC 60958-3 level I (50 ppm) at 48
     * kHz slip 4.8 a second, two of AES11 grade 1 (1 ppm) one in 10.417 s */
    {"free-running-clocks", "joined p1 p2",
     "p1 p2: P1 and P2 each run on a clock of their own: up to 4.8 samples slip every second -> "
     "switch drift correction on"},
    {"free-running-clocks", "joined p1 p2; p1 clock_ppm 1; p2 clock_ppm 1",
     "p1 p2: P1 and P2 each run on a clock of their own: a sample may slip every 10.4 seconds -> "
     "switch drift correction on"},
    {"free-running-clocks", "joined p1 p2; p1 clock_ppm 0; p2 clock_ppm 0",
     "p1 p2: P1 and P2 each run on a clock of their own: samples slip as soon as one is less exact "
     "than told -> switch drift correction on"},
    {"free-running-clocks", "joined p1 p2; host drift_correction 1", ""},
    {"free-running-clocks", "joined p1", ""},
    {"free-running-clocks", "joined p1 p2; p1 clock_ppm 10; p2 clock_ppm 10; host rate_hz 50000",
     "p1 p2: P1 and P2 each run on a clock of their own: up to 1.0 samples slip every second -> "
     "switch drift correction on"},
    /* two periods of 480 frames at 48 kHz are 20 ms */
    {"long-latency", "host buffer_frames 481",
     "host: the laptop's buffer of 481 frames takes 20.05 ms, more than 20 ms -> set a buffer of "
     "at most 480 frames (advice)"},
    {"long-latency", "host buffer_frames 480", ""},
    {"long-latency", "host buffer_frames 1024; host rate_hz 44100",
     "host: the laptop's buffer of 1024 frames takes 46.44 ms, more than 20 ms -> set a buffer of "
     "at most 441 frames (advice)"},
    {"new-combination",
     "joined p1 p2; p1 model dunlin-2; p2 model dunlin-3; host combining by-hand",
     "p1 p2: the laptop has no saved combination of exactly dunlin-2, dunlin-3 in this order -> "
     "save the joined models as a combination"},
    {"new-combination", "joined p1 p2; host combining by-hand",
     "p1 p2: the laptop has no saved combination of exactly P1, P2 in this order -> write down "
     "each device's model, then make a new combination (advice)"},
    {"new-combination",
     "joined p1 p2; p1 model dunlin-2; p2 model dunlin-3; host combining by-hand; combination "
     "dunlin-3 dunlin-2",
     "p1 p2: the laptop has no saved combination of exactly dunlin-2, dunlin-3 in this order -> "
     "save the joined models as a combination"},
    {"new-combination",
     "joined p1 p2; p1 model dunlin-2; p2 model dunlin-3; host combining by-hand; combination "
     "dunlin-2 dunlin-3",
     ""},
    {"new-combination", "joined p1 p2; p1 model dunlin-2; p2 model dunlin-3", ""},
    {"undecided-deck", "h1 set 0 1",
     "h1: H1 wants no strip yet -> choose a strip for it, or leave it silent (advice)"},
    {"undecided-deck", "p1.line > s1.line; joined p1; h1 set 5 6",
     "h1: H1 wants no strip yet -> let H1 be heard on strip 1 and set H1 to pair 0/1"},
    {"undecided-deck", "h1 wants s1", ""},
    {"undecided-deck", "p1.line > s1.line; p1.line > s2.line; joined p1; h1 wants s1; h2 set 5 6",
     "h2: H2 wants no strip yet -> choose a strip for it, or leave it silent (advice)"},
    {"undecided-deck", "p1.line > s1.line; joined p1; h1 set 0 1",
     "h1: H1 wants no strip yet -> let H1 be heard on strip 1 and set H1 to pair 0/1"},
    {"undecided-deck",
     "p1.line > s1.line; p2.line > s2.line; joined p1 p2; s1 in-use Robin; h1 set 5 6",
     "h1: H1 wants no strip yet -> let H1 be heard on strip 2 and set H1 to pair 2/3"},
    {"idle-player", "joined p1 p2; h1 set 2 3",
     "p1: P1 is in the interface, but no host deck plays to it -> take P1 out of the interface"},
    {"idle-player", "joined p1 p2; h1 set 1 2; joined x1", ""},
    {"idle-player",
     "p2.line > s1.line; joined p1 p2; h1 wants s1; h1 set 2 3; host names by-device",
     "p1: P1 is in the interface, but no host deck plays to it -> take P1 out of the interface and "
     "set H1 to pair P2 L/R"},
    {"idle-player", "p2.line > s1.line; joined p1 p2; h1 wants s1; s1 selects phono; h2 set 0 1",
     "p2: P2 is in the interface, but no host deck plays to it -> - (advice)"},
    {NULL, NULL, NULL},
};
