# boothwright: build, test, install. "make help" lists the targets.
MODE    = plain
B       = build/$(MODE)
PREFIX  = /usr/local
DESTDIR =
VERSION = 0.1.0

# --- what the compiler is told -------------------------------------------------------------------
have     = $(shell pkg-config --exists $(1) 2>/dev/null && echo yes)
cflags   = $(filter-out -D_XOPEN_SOURCE=% -D_DEFAULT_SOURCE,$(shell pkg-config --cflags $(1) 2>/dev/null))
libs     = $(shell pkg-config --libs $(1) 2>/dev/null || echo $(2))
WARN     = -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes -Wmissing-prototypes \
           -Wvla -Wcast-qual -Wwrite-strings -Wundef -Wformat=2 $(if $(WERROR),-Werror)
CPPFLAGS = -Isrc -D_XOPEN_SOURCE=700 -D_DEFAULT_SOURCE -D_DARWIN_C_SOURCE -DVERSION='"$(VERSION)"'
opt_plain = -O2 -g
opt_asan  = -O1 -g -fsanitize=address,undefined -fno-sanitize-recover=all -fno-omit-frame-pointer
opt_hard  = -O1 -g -DHARD
opt_cover = -O0 -g --coverage
CFLAGS   = -std=c11 $(WARN) $(opt_$(MODE))
LDFLAGS  = $(filter -fsanitize% --coverage,$(opt_$(MODE)))

# --- what is made of what ------------------------------------------------------------------------
SRC     := $(sort $(wildcard src/*/*.c))
# with alsa-lib it can play; "make ALSA=" leaves that out where it is found
ALSA    := $(if $(call have,alsa),alsa)
SOUND   := src/cli/play_ident.c src/cli/sounding.c src/cli/playback_$(or $(ALSA),none).c
OUTER   := $(wildcard src/term/*.c) $(addprefix src/cli/,main.c editor.c session.c) $(SOUND)
LIB     := $(filter-out $(OUTER) src/cli/playback_%.c,$(SRC))
CORE    := $(sort $(wildcard tests/base/*.c tests/model/*.c tests/engine/*.c tests/oracle/*.c))
REST    := $(sort $(filter-out $(CORE) %_demo.c,$(wildcard tests/file/*.c tests/ui/*.c tests/cli/*.c \
             tests/screens/*.c tests/tty/*.c tests/alsa/*.c tests/glpk/*.c)))
SUPPORT := $(sort $(wildcard tests/support/*.c))
obj      = $(patsubst %.c,$(B)/%.o,$(1))
APP      = $(B)/boothwright

all: build/boothwright

build/boothwright: $(APP)
	@ln -sf $(MODE)/boothwright $@

$(B)/libbooth.a: $(call obj,$(LIB))
	@rm -f $@
	@$(AR) rcs $@ $^

$(APP): $(call obj,$(OUTER)) $(B)/libbooth.a
	@$(CC) $(LDFLAGS) -o $@ $^ $(call libs,libcjson,-lcjson) $(call libs,ncursesw,-lncursesw) \
	  $(if $(ALSA),$(call libs,$(ALSA))) -lm

# the parts of the terminal that need no curses, for unit tests
PURE     = src/term/decode.c src/term/looks.c
# a program that tries the terminal, for the tests in tests/tty
DEMO     = $(B)/tests/tty/canvas_demo
$(DEMO): $(DEMO).o $(call obj,$(filter-out src/cli/main.c src/cli/session.c $(SOUND),$(OUTER))) $(B)/libbooth.a
	@$(CC) $(LDFLAGS) -o $@ $^ $(call libs,ncursesw,-lncursesw) -lm

$(B)/src/term/%.o $(B)/src/file/%.o: EXTRA = $(call cflags,ncursesw libcjson)
$(B)/src/cli/playback_alsa.o: EXTRA = $(call cflags,alsa)
$(B)/tests/%.o: EXTRA = -Itests $(call cflags,check libcjson $(OPTIONAL)) -Wno-missing-prototypes \
  $(foreach p,$(OPTIONAL) $(WRAP) $(GLPK),-DHAVE_$(p))
OPTIONAL = $(ALSA) $(foreach p,vterm sndfile,$(if $(call have,$(p)),$(p)))
# a general-purpose solver that has no pkg-config file
GLPK     = $(eval GLPK := $(shell echo '\#include <glpk.h>' | $(CC) -E - >/dev/null 2>&1 && \
             echo glpk))$(GLPK)

$(B)/%.o: %.c
	@mkdir -p $(@D)
	@echo '  CC $<'
	@$(CC) $(CPPFLAGS) $(CFLAGS) $(EXTRA) -MMD -MP -c -o $@ $<

# --- tests: every tests/ROOM/test_NAME.c holds "Suite *test_NAME(void)" ----------------------------
run_core = $(B)/tests/run-core
run_rest = $(B)/tests/run-rest
$(B)/tests/run-%.c: Makefile
	@mkdir -p $(@D)
	@{ echo '#include <check.h>'; for s in $(SUITES); do echo "Suite *$$s(void);"; done; \
	   echo '#include "support/run.h"'; echo 'int main(void) { SRunner *r = srunner_create(NULL);'; \
	   for s in $(SUITES); do echo "srunner_add_suite(r, $$s());"; done; \
	   echo 'return run_suites(r); }'; } >$@
suites   = $(basename $(notdir $(filter %.c,$(foreach f,$(1),$(if $(findstring /test_,$(f)),$(f))))))
$(run_core).c: SUITES = $(call suites,$(CORE))
$(run_rest).c: SUITES = $(call suites,$(REST))
$(run_core).c: $(CORE)
$(run_rest).c: $(REST)
$(run_core).o $(run_rest).o: %.o: %.c
	@$(CC) $(CPPFLAGS) $(CFLAGS) -Itests $(call cflags,check) -c -o $@ $<
# the core's tests link without curses and without cJSON: nothing in it needs either
$(run_core): $(run_core).o $(call obj,$(CORE) $(filter-out %_file.c,$(SUPPORT))) $(B)/libbooth.a
	@$(CC) $(LDFLAGS) -o $@ $^ $(call libs,check,-lcheck) -lm
$(run_rest): $(run_rest).o $(call obj,$(REST) $(SUPPORT) $(PURE)) $(B)/libbooth.a
	@$(CC) $(LDFLAGS) $(wraps) -o $@ $^ $(call libs,check $(OPTIONAL) libcjson,-lcheck -lcjson) \
	  $(GLPK:%=-l%) -lm

# the calls that tests/support/faults_file.c makes fail, where the linker can put it in their way
WRAPPED  = open openat read write close fstat fstatat fchmod fchown flock fsync fdatasync \
           ftruncate linkat mkdir readlink renameat unlinkat
WRAP     = $(eval WRAP := $(shell echo 'int main(void){return 0;}' | $(CC) -x c -Wl,--wrap=read \
             -o /dev/null - 2>/dev/null && echo wrap))$(WRAP)
wraps    = $(if $(WRAP),$(addprefix -Wl$(comma)--wrap=,$(WRAPPED)))
comma    = ,

test: | $(filter setup,$(MAKECMDGOALS))
	@$(MAKE) --no-print-directory run-tests
run-tests: $(APP) $(DEMO) $(run_core) $(run_rest)
	@BOOTHWRIGHT=$(CURDIR)/$(APP) CANVAS_DEMO=$(CURDIR)/$(DEMO) sh tests/run.sh $(run_core) $(run_rest)

asan hard: | $(filter setup,$(MAKECMDGOALS))
	@$(MAKE) --no-print-directory MODE=$@ run-tests
check: | $(filter setup,$(MAKECMDGOALS))
	@$(MAKE) --no-print-directory run-tests layers format man-check files-check

# --- what measures: each of these in tests/bench is a program --------------------------------------
BENCH    = $(patsubst %,$(B)/tests/bench/%,compute assign checks venues measure screen bare)
BESIDE   = bench/figures bench/window support/listening support/booth_random support/records
$(BENCH): %: %.o $(call obj,$(BESIDE:%=tests/%.c)) $(B)/libbooth.a
	@$(CC) $(LDFLAGS) -o $@ $^ $(call libs,$(filter vterm,$(OPTIONAL)) libcjson,-lcjson) \
	  $(call libs,ncursesw,-lncursesw) $(GLPK:%=-l%) -lm

# --- everything else -----------------------------------------------------------------------------
setup:
	@sh tests/support/setup.sh $(filter-out setup,$(MAKECMDGOALS))
run: | $(filter setup,$(MAKECMDGOALS))
	@$(MAKE) --no-print-directory build/boothwright
	@d=$$(mktemp -d) && cp venues/tideline-hall.json $$d/ && build/boothwright $$d/tideline-hall.json
layers: $(B)/libbooth.a
	@sh tests/support/layers.sh $(B)/libbooth.a
format:
	@sh tests/support/format.sh
man-check: $(APP) $(run_rest)
	@sh tests/support/man-check.sh $(APP) $(run_rest)
files-check:
	@sh tests/support/files-check.sh
bench: $(APP) $(BENCH)
	@sh tests/bench/bench.sh $(B)
cover:
	@$(MAKE) --no-print-directory MODE=cover run-tests && sh tests/support/cover.sh build/cover

share = $(DESTDIR)$(PREFIX)/share
install: all
	install -d $(DESTDIR)$(PREFIX)/bin $(share)/man/man1 $(share)/man/man5 \
	  $(share)/boothwright/venues $(share)/bash-completion/completions \
	  $(share)/zsh/site-functions $(share)/fish/vendor_completions.d
	install -m 755 $(APP) $(DESTDIR)$(PREFIX)/bin/boothwright
	install -m 644 man/boothwright.1 $(share)/man/man1/
	install -m 644 man/boothwright-venue.5 $(share)/man/man5/
	install -m 644 $(filter-out %.schema.json,$(wildcard venues/*.json)) $(share)/boothwright/venues/
	install -m 644 venues/venue.schema.json $(share)/boothwright/
	install -m 644 man/completion.bash $(share)/bash-completion/completions/boothwright
	install -m 644 man/completion.zsh $(share)/zsh/site-functions/_boothwright
	install -m 644 man/completion.fish $(share)/fish/vendor_completions.d/boothwright.fish
uninstall:
	rm -f $(DESTDIR)$(PREFIX)/bin/boothwright $(share)/man/man1/boothwright.1 \
	  $(share)/man/man5/boothwright-venue.5 $(share)/bash-completion/completions/boothwright \
	  $(share)/zsh/site-functions/_boothwright $(share)/fish/vendor_completions.d/boothwright.fish
	rm -rf $(share)/boothwright
clean:
	rm -rf build
help:
	@echo 'make            build build/boothwright'
	@echo 'make setup      install what is missing, and say what (then: run, test)'
	@echo 'make run        open the editor on a copy of the demo venue'
	@echo 'make test       every test;  check: tests, layers, format, man pages;  asan, hard: other builds'
	@echo 'make bench      speed and size, as ratios;  cover: coverage of model, engine and file'
	@echo 'make install    DESTDIR= PREFIX=/usr/local;  uninstall;  clean'

.PHONY: all test run-tests asan hard check setup run layers format man-check files-check bench cover \
  install uninstall clean help
-include $(shell find $(B) -name '*.d' 2>/dev/null)
