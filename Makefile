# conetide: build, install and test. `make help` lists the targets.
# New .c files are found by wildcard; a new room needs a line in ROOMS and in LINKS_*.

CC ?= gcc
AR ?= ar
CLANG ?= clang
PREFIX ?= /usr/local
DESTDIR ?=
B ?= build
VERSION := 0.1.0

WARNINGS := -Wall -Wextra -Wpedantic -Wconversion -Werror -Wshadow -Wstrict-prototypes \
	-Wmissing-prototypes -Wwrite-strings -Wvla -Wformat=2 -Wundef
OPTIMISE ?= -O2 -g
SANITIZE ?=
CFLAGS_ALL := -std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc -fno-math-errno -ffp-contract=off \
	$(WARNINGS) $(OPTIMISE) $(SANITIZE) $(CFLAGS)
LDFLAGS_ALL := $(SANITIZE) $(LDFLAGS)

# The rooms, and for each what a test of it links: exactly the arrows of docs/architecture.md.
ROOMS := phenology solving base orchard planning reading writing cli
LINKS_phenology := phenology
LINKS_solving := solving
LINKS_base := base
LINKS_orchard := orchard phenology base
LINKS_planning := planning orchard solving phenology base
LINKS_reading := reading orchard phenology base
LINKS_writing := writing planning orchard solving phenology base
LINKS_cli := cli reading writing planning orchard solving phenology base
LIBS_reading := -lcsv -lcjson
LIBS_writing := -lcjson
LIBS_cli := -lcsv -lcjson

room_sources = $(filter-out src/cli/main.c %_test.c,$(wildcard src/$(1)/*.c))
room_objects = $(patsubst src/%.c,$(B)/%.o,$(call room_sources,$(1)))
room_archive = $(if $(filter phenology,$(1)),$(B)/libconetide-phenology.a,$(B)/$(1).a)
archives = $(foreach room,$(1),$(call room_archive,$(room)))

UNIT_TESTS := $(patsubst src/%.c,$(B)/%,$(wildcard src/*/*_test.c))
PUBLISHED_TESTS := $(patsubst tests/%.c,$(B)/tests/%,$(wildcard tests/published/*.c))
PROPERTY_TESTS := $(patsubst tests/%.c,$(B)/tests/%,$(wildcard tests/properties/*.c))
TEST_PROGRAMS := $(UNIT_TESTS) $(PUBLISHED_TESTS) $(PROPERTY_TESTS)

.SUFFIXES:
.DELETE_ON_ERROR:
.PHONY: all man deps demo deps-check check test-programs unit published scenario house asan valgrind \
	coverage fuzz fuzz-long bench bench-skill check-optimum refresh-kill refresh-month year lint install uninstall clean help

all: $(B)/conetide $(B)/libconetide-phenology.a ## the program and the phenology library

$(B)/%.o: src/%.c
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -MMD -MP -c -o $@ $<

define room_rule
$(call room_archive,$(1)): $(call room_objects,$(1))
	@mkdir -p $$(@D)
	@rm -f $$@
	$(AR) rcs $$@ $$^
endef
$(foreach room,$(ROOMS),$(eval $(call room_rule,$(room))))

# The tables of data/defaults travel inside the program.
DEFAULTS := $(wildcard data/defaults/*.csv)
$(B)/generated/shipped.c: $(DEFAULTS) src/cli/shipped.sh
	@mkdir -p $(@D)
	sh src/cli/shipped.sh $(DEFAULTS) > $@

$(B)/generated/shipped.o: $(B)/generated/shipped.c
	$(CC) $(CFLAGS_ALL) -c -o $@ $<

$(B)/cli.a: $(B)/generated/shipped.o

$(B)/conetide: $(B)/cli/main.o $(call archives,$(LINKS_cli))
	$(CC) $(LDFLAGS_ALL) -o $@ $^ $(LIBS_cli) -lm

# Unit tests stand beside their module and link only what the room may use.
define unit_rule
$(patsubst src/%.c,$(B)/%,$(wildcard src/$(1)/*_test.c)): $(B)/%: $(B)/%.o $(call archives,$(LINKS_$(1)))
	$$(CC) $$(LDFLAGS_ALL) -o $$@ $$^ $$(LIBS_$(1)) -lcmocka -lm
endef
$(foreach room,$(ROOMS),$(eval $(call unit_rule,$(room))))

$(B)/tests/%.o: tests/%.c
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -Itests -MMD -MP -c -o $@ $<

$(PUBLISHED_TESTS) $(PROPERTY_TESTS): $(B)/tests/%: $(B)/tests/%.o $(call archives,$(LINKS_cli))
	$(CC) $(LDFLAGS_ALL) -o $@ $^ $(LIBS_cli) -lcmocka -lgsl -lgslcblas $(LIBS_test) -lm
# Optima by a general solver; calendars by another reader.
$(B)/tests/%_glpk: LIBS_test = -lglpk
$(B)/tests/%_ical: LIBS_test = -lical

-include $(shell find $(B) -name '*.d' 2>/dev/null)

SUDO := $(shell [ "$$(id -u)" = 0 ] || echo sudo)
APT := $(SUDO) env DEBIAN_FRONTEND=noninteractive apt-get

deps: ## install what the program is built with (Debian)
	$(APT) update -qq
	$(APT) install -y -qq --no-install-recommends gcc libc6-dev make libcsv-dev libcjson-dev

deps-check: deps ## install what the tests need (Debian)
	$(APT) install -y -qq --no-install-recommends clang clang-format clang-tidy cppcheck \
		libclang-rt-14-dev libcmocka-dev libgsl-dev libglpk-dev libical-dev librsvg2-bin valgrind gcovr python3 \
		gnumeric python3-jsonschema mandoc zsh chromium chromium-driver poppler-utils

# Manual pages come from the tables that parse and help, and from docs/tables.md.
man: $(B)/man/done ## manual pages, in build/man
$(B)/man/done: $(B)/conetide docs/manual.awk docs/tables.md
	@mkdir -p $(@D)
	$(B)/conetide --manual > $(@D)/conetide.1
	for command in $$($(B)/conetide --complete "" | grep -v '^-'); do \
		$(B)/conetide --manual $$command > $(@D)/conetide-$$command.1 || exit 1; done
	LC_ALL=C awk -f docs/manual.awk docs/tables.md > $(@D)/conetide-tables.5
	touch $@

demo: all ## run the main job on the demo folder, as of a fixed day
	@sh tests/demo.sh $(B)/conetide data/demo

test-programs: $(TEST_PROGRAMS)

check: all test-programs ## every test; ends with `N passed, N failed, N skipped`
	@sh tests/run.sh $(B)

unit: $(UNIT_TESTS) ## unit tests only
	@sh tests/run.sh $(B) unit

published: $(PUBLISHED_TESTS) ## checks against published values only
	@sh tests/run.sh $(B) published

scenario: all ## whole runs with exact expected outputs only
	@sh tests/run.sh $(B) scenario

house: all ## the arrows of docs/architecture.md, by includes and by calls
	@sh tests/house/house.sh $(B)

asan: ## the tests under address and undefined-behaviour sanitizers
	$(MAKE) B=$(B)/asan OPTIMISE='-O1 -g -fno-omit-frame-pointer' \
		SANITIZE='-fsanitize=address,undefined -fno-sanitize-recover=all' check

valgrind: $(UNIT_TESTS) ## the unit tests under valgrind
	@sh tests/valgrind.sh $(UNIT_TESTS)

coverage: ## line and branch coverage of src/, in build/coverage
	$(MAKE) B=$(B)/coverage OPTIMISE='-O0 -g --coverage' LDFLAGS=--coverage check
	gcovr --root . --object-directory $(B)/coverage --filter src/ --exclude '.*_test\.c' \
		--print-summary --txt $(B)/coverage/summary.txt

FUZZ_SECONDS ?= 20
FUZZERS := $(patsubst tests/fuzz/%.c,$(B)/fuzz/%,$(wildcard tests/fuzz/*_fuzz.c))
FUZZ_SOURCES = $(foreach room,reading orchard phenology base,$(call room_sources,$(room)))

$(B)/fuzz/%: tests/fuzz/%.c $(FUZZ_SOURCES)
	@mkdir -p $(@D)
	$(CLANG) -std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc -O1 -g \
		-fsanitize=fuzzer,address,undefined -fno-sanitize-recover=all \
		-o $@ $^ -lcsv -lcjson -lm

fuzz: $(FUZZERS) ## fuzz the readers for FUZZ_SECONDS each
	@sh tests/fuzz/run.sh $(FUZZ_SECONDS) $(FUZZERS)

fuzz-long: ## fuzz the readers for ten minutes each
	$(MAKE) fuzz FUZZ_SECONDS=600

BENCHES := $(patsubst tests/bench/%.c,$(B)/bench/%,$(wildcard tests/bench/*.c))

$(BENCHES): $(B)/bench/%: tests/bench/%.c $(call archives,$(LINKS_cli))
	@mkdir -p $(@D)
	$(CC) $(CFLAGS_ALL) -Itests -o $@ $^ $(LIBS_cli) -lm

bench: $(BENCHES) ## speed, as ratios measured in one run
	@for bench in $(BENCHES); do $$bench || exit 1; done

check-optimum: $(B)/tests/published/packing_glpk ## every plan of small seasons against GLPK; minutes
	OPTIMUM=full $<

refresh-kill: all ## 300 refreshes killed, 50 pairs at once, full disks: one whole set each time; minutes
	python3 tests/properties/refresh_kill.py $(B) 300 50

year: all ## the 52 worklists of the demo's year, every page and line looked at; minutes
	@python3 tests/properties/year_of_worklists.py $(B) all

refresh-month: all ## 31 nights of refreshes on the demo folder, each explained; many minutes
	python3 tests/properties/refresh_month.py $(B) data/demo 2027-02-01 31

SKILLS := fit_skill replay_skill
bench-skill: $(SKILLS:%=$(B)/tests/published/%) ## errors of dates on published series, in days
	@for skill in $^; do \
		$$skill >$(B)/skill.txt 2>&1; status=$$?; \
		grep -v '^\[' $(B)/skill.txt; [ $$status -eq 0 ] || exit $$status; \
	done

LINT_FILES = $(wildcard src/*/*.c)
FORMAT_FILES = $(wildcard src/*/*.[ch] include/conetide/*.h tests/*/*.[ch] tests/*.h)

lint: ## clang-format, clang-tidy and cppcheck
	clang-format --dry-run --Werror $(FORMAT_FILES)
	cppcheck --quiet --std=c11 --enable=warning,portability,performance --inline-suppr \
		--error-exitcode=1 -Iinclude -Isrc $(filter-out %_test.c,$(LINT_FILES))
	clang-tidy --quiet --warnings-as-errors='*' $(filter-out %_test.c,$(LINT_FILES)) -- \
		-std=c11 -D_POSIX_C_SOURCE=200809L -Iinclude -Isrc

install: all man ## install program, library, manual, completion (PREFIX, DESTDIR)
	install -d $(DESTDIR)$(PREFIX)/bin $(DESTDIR)$(PREFIX)/lib/pkgconfig \
		$(DESTDIR)$(PREFIX)/include/conetide $(DESTDIR)$(PREFIX)/share/conetide
	install -m 755 $(B)/conetide $(DESTDIR)$(PREFIX)/bin/conetide
	install -m 644 $(B)/libconetide-phenology.a $(DESTDIR)$(PREFIX)/lib/
	install -m 644 include/conetide/*.h $(DESTDIR)$(PREFIX)/include/conetide/
	install -m 644 data/defaults/*.csv $(DESTDIR)$(PREFIX)/share/conetide/
	install -m 644 docs/tables.schema.json $(DESTDIR)$(PREFIX)/share/conetide/
	install -d $(DESTDIR)$(PREFIX)/share/man/man1 $(DESTDIR)$(PREFIX)/share/man/man5
	install -m 644 $(B)/man/*.1 $(DESTDIR)$(PREFIX)/share/man/man1/
	install -m 644 $(B)/man/*.5 $(DESTDIR)$(PREFIX)/share/man/man5/
	install -d $(DESTDIR)$(PREFIX)/share/bash-completion/completions $(DESTDIR)$(PREFIX)/share/zsh/site-functions
	install -m 644 data/completion/conetide.bash $(DESTDIR)$(PREFIX)/share/bash-completion/completions/conetide
	install -m 644 data/completion/_conetide $(DESTDIR)$(PREFIX)/share/zsh/site-functions/_conetide
	printf '%s\n' 'prefix=$(PREFIX)' 'Name: conetide-phenology' \
		'Description: heat units, heat sums and projected dates' 'Version: $(VERSION)' \
		'Libs: -L$${prefix}/lib -lconetide-phenology -lm' 'Cflags: -I$${prefix}/include' \
		> $(DESTDIR)$(PREFIX)/lib/pkgconfig/conetide-phenology.pc

uninstall: ## remove what install put there
	rm -f $(DESTDIR)$(PREFIX)/bin/conetide $(DESTDIR)$(PREFIX)/lib/libconetide-phenology.a \
		$(DESTDIR)$(PREFIX)/lib/pkgconfig/conetide-phenology.pc
	rm -rf $(DESTDIR)$(PREFIX)/include/conetide $(DESTDIR)$(PREFIX)/share/conetide
	rm -f $(DESTDIR)$(PREFIX)/share/man/man1/conetide.1 $(DESTDIR)$(PREFIX)/share/man/man1/conetide-*.1 \
		$(DESTDIR)$(PREFIX)/share/man/man5/conetide-tables.5 \
		$(DESTDIR)$(PREFIX)/share/bash-completion/completions/conetide \
		$(DESTDIR)$(PREFIX)/share/zsh/site-functions/_conetide

clean: ## remove build/
	rm -rf build

help: ## this list
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/\1	\2/p' Makefile | expand -t 14
