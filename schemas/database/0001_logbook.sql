-- One table a kind of record. A column stands for the field of its name; maps and lists are JSON. `entered` is the order
-- of entry, `instant` the record's time in microseconds of UTC since 1970, which sorts times of different offsets.
-- References are checked at the end of a transaction, so that the records of one file may come in any order.

CREATE TABLE printer (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    name TEXT NOT NULL,
    max_width_mm REAL NOT NULL CHECK (max_width_mm > 0),
    inks TEXT NOT NULL CHECK (json_type(inks) = 'array'),
    gauge_step_percent REAL NOT NULL CHECK (gauge_step_percent > 0),
    shared_black_slot INTEGER NOT NULL CHECK (shared_black_slot IN (0, 1)),
    black_at_start TEXT CHECK (black_at_start IN ('matte', 'photo'))
) STRICT;

CREATE TABLE paper (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    name TEXT NOT NULL,
    finish TEXT NOT NULL,
    black TEXT NOT NULL CHECK (black IN ('matte', 'photo')),
    form TEXT NOT NULL CHECK (form IN ('roll', 'sheet')),
    width_mm REAL CHECK (width_mm > 0),
    length_mm REAL CHECK (length_mm > 0),
    price_per_m2 REAL CHECK (price_per_m2 >= 0),
    weight_gsm REAL CHECK (weight_gsm > 0),
    white_y REAL CHECK (white_y BETWEEN 0 AND 1),
    black_l REAL CHECK (black_l BETWEEN 0 AND 100),
    profile TEXT
) STRICT;

CREATE TABLE stock (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    paper TEXT NOT NULL REFERENCES paper (id) DEFERRABLE INITIALLY DEFERRED,
    opened TEXT NOT NULL,
    width_mm REAL CHECK (width_mm > 0),
    length_mm REAL CHECK (length_mm > 0),
    sheets INTEGER CHECK (sheets >= 0),
    price REAL CHECK (price >= 0),
    closed TEXT,
    instant INTEGER NOT NULL
) STRICT;

CREATE TABLE screen (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    name TEXT NOT NULL,
    white_cd_m2 REAL CHECK (white_cd_m2 > 0),
    calibrated TEXT
) STRICT;

CREATE TABLE light (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    name TEXT NOT NULL,
    illuminance_lx REAL CHECK (illuminance_lx > 0),
    colour_temperature_k REAL CHECK (colour_temperature_k > 0)
) STRICT;

CREATE TABLE picture (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    title TEXT NOT NULL,
    file TEXT,
    width_px INTEGER CHECK (width_px > 0),
    height_px INTEGER CHECK (height_px > 0),
    bits INTEGER CHECK (bits > 0),
    mean_l REAL CHECK (mean_l BETWEEN 0 AND 100),
    shadow_share REAL CHECK (shadow_share BETWEEN 0 AND 1),
    sha256 TEXT CHECK (length(sha256) = 64)
) STRICT;

CREATE TABLE "order" (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    title TEXT NOT NULL,
    prints INTEGER NOT NULL CHECK (prints >= 1),
    taken TEXT NOT NULL,
    black TEXT CHECK (black IN ('matte', 'photo')),
    paper TEXT REFERENCES paper (id) DEFERRABLE INITIALLY DEFERRED,
    promised TEXT,
    minutes REAL CHECK (minutes >= 0),
    late_cost_per_day REAL NOT NULL CHECK (late_cost_per_day >= 0),
    wait_cost_per_day REAL NOT NULL CHECK (wait_cost_per_day >= 0),
    client TEXT,
    price REAL CHECK (price >= 0),
    done TEXT,
    CHECK (black IS NOT NULL OR paper IS NOT NULL)
) STRICT;

CREATE TABLE print (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    at TEXT NOT NULL,
    printer TEXT NOT NULL REFERENCES printer (id) DEFERRABLE INITIALLY DEFERRED,
    paper TEXT NOT NULL REFERENCES paper (id) DEFERRABLE INITIALLY DEFERRED,
    picture TEXT NOT NULL REFERENCES picture (id) DEFERRABLE INITIALLY DEFERRED,
    width_mm REAL NOT NULL CHECK (width_mm > 0),
    height_mm REAL NOT NULL CHECK (height_mm > 0),
    settings TEXT NOT NULL CHECK (json_type(settings) = 'object'),
    border_mm REAL CHECK (border_mm >= 0),
    stock TEXT REFERENCES stock (id) DEFERRABLE INITIALLY DEFERRED,
    purpose TEXT NOT NULL CHECK (purpose IN ('strip', 'work', 'final')),
    attempt_of TEXT REFERENCES print (id) DEFERRABLE INITIALLY DEFERRED CHECK (attempt_of <> id),
    "order" TEXT REFERENCES "order" (id) DEFERRABLE INITIALLY DEFERRED,
    screen TEXT REFERENCES screen (id) DEFERRABLE INITIALLY DEFERRED,
    edition_number INTEGER CHECK (edition_number >= 1),
    edition_size INTEGER CHECK (edition_size >= 1),
    ink_ml REAL CHECK (ink_ml >= 0),
    note TEXT,
    instant INTEGER NOT NULL,
    CHECK (edition_number <= edition_size)
) STRICT;

CREATE TABLE judgement (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    print TEXT NOT NULL REFERENCES print (id) DEFERRABLE INITIALLY DEFERRED,
    at TEXT NOT NULL,
    light TEXT REFERENCES light (id) DEFERRABLE INITIALLY DEFERRED,
    hours_dry REAL CHECK (hours_dry >= 0),
    darkness INTEGER CHECK (darkness BETWEEN -6 AND 6),
    shadows TEXT CHECK (shadows IN ('open', 'held', 'blocked')),
    "cast" TEXT,
    flaws TEXT CHECK (json_type(flaws) = 'array'),
    verdict TEXT CHECK (verdict IN ('keep', 'redo', 'scrap')),
    note TEXT,
    instant INTEGER NOT NULL
) STRICT;

CREATE TABLE cartridge (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    printer TEXT NOT NULL REFERENCES printer (id) DEFERRABLE INITIALLY DEFERRED,
    ink TEXT NOT NULL,
    installed TEXT NOT NULL,
    nominal_ml REAL NOT NULL CHECK (nominal_ml > 0),
    removed TEXT,
    price REAL CHECK (price >= 0),
    start_percent REAL NOT NULL CHECK (start_percent BETWEEN 0 AND 100),
    lot TEXT,
    instant INTEGER NOT NULL
) STRICT;

CREATE TABLE gauge (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    printer TEXT NOT NULL REFERENCES printer (id) DEFERRABLE INITIALLY DEFERRED,
    at TEXT NOT NULL,
    levels TEXT NOT NULL CHECK (json_type(levels) = 'object'),
    instant INTEGER NOT NULL
) STRICT;

CREATE TABLE changeover (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    printer TEXT NOT NULL REFERENCES printer (id) DEFERRABLE INITIALLY DEFERRED,
    at TEXT NOT NULL,
    "from" TEXT NOT NULL CHECK ("from" IN ('matte', 'photo')),
    "to" TEXT NOT NULL CHECK ("to" IN ('matte', 'photo') AND "to" <> "from"),
    before TEXT REFERENCES gauge (id) DEFERRABLE INITIALLY DEFERRED,
    after TEXT REFERENCES gauge (id) DEFERRABLE INITIALLY DEFERRED,
    minutes REAL CHECK (minutes >= 0),
    cleanings INTEGER CHECK (cleanings >= 0),
    note TEXT,
    instant INTEGER NOT NULL
) STRICT;

CREATE TABLE cleaning (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    printer TEXT NOT NULL REFERENCES printer (id) DEFERRABLE INITIALLY DEFERRED,
    at TEXT NOT NULL,
    strength TEXT CHECK (strength IN ('light', 'normal', 'deep')),
    clear_before INTEGER CHECK (clear_before IN (0, 1)),
    clear_after INTEGER CHECK (clear_after IN (0, 1)),
    note TEXT,
    instant INTEGER NOT NULL
) STRICT;

CREATE TABLE bench (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    printer TEXT NOT NULL REFERENCES printer (id) DEFERRABLE INITIALLY DEFERRED,
    weekdays TEXT NOT NULL CHECK (json_type(weekdays) = 'array'),
    minutes_per_day REAL NOT NULL CHECK (minutes_per_day > 0),
    minutes_per_print REAL NOT NULL CHECK (minutes_per_print > 0),
    changeover_minutes REAL NOT NULL CHECK (changeover_minutes >= 0),
    changeover_cost TEXT CHECK (json_type(changeover_cost) = 'object'),
    prints_per_bench_day TEXT CHECK (json_type(prints_per_bench_day) = 'object'),
    waiting_cost REAL NOT NULL CHECK (waiting_cost >= 0)
) STRICT;

CREATE TABLE wedge (
    entered INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE CHECK (length(id) BETWEEN 1 AND 64),
    paper TEXT NOT NULL REFERENCES paper (id) DEFERRABLE INITIALLY DEFERRED,
    at TEXT NOT NULL,
    first_step INTEGER NOT NULL CHECK (first_step BETWEEN 0 AND 255),
    light TEXT REFERENCES light (id) DEFERRABLE INITIALLY DEFERRED,
    note TEXT,
    instant INTEGER NOT NULL
) STRICT;

CREATE INDEX print_instant ON print (instant);
CREATE INDEX print_paper ON print (paper, instant);
CREATE INDEX print_picture ON print (picture);
CREATE INDEX print_attempt_of ON print (attempt_of) WHERE attempt_of IS NOT NULL;
CREATE INDEX print_order ON print ("order") WHERE "order" IS NOT NULL;
CREATE INDEX print_stock ON print (stock) WHERE stock IS NOT NULL;
CREATE INDEX judgement_print ON judgement (print, instant);
CREATE INDEX stock_paper ON stock (paper);
CREATE INDEX gauge_instant ON gauge (printer, instant);
CREATE INDEX cartridge_ink ON cartridge (printer, ink, instant);
CREATE INDEX changeover_instant ON changeover (printer, instant);
CREATE INDEX order_open ON "order" (promised) WHERE done IS NULL;

-- The number pencilled on the back of a print. It is never given twice, not even after the print was deleted.
CREATE TABLE print_number (
    number INTEGER PRIMARY KEY AUTOINCREMENT,
    print TEXT NOT NULL UNIQUE
) STRICT;

-- One line a print for the history's list: what the print, its picture, its paper and its judgements say together.
-- Kept by the store in the transaction that changes any of them.
CREATE TABLE print_line (
    number INTEGER PRIMARY KEY,
    print TEXT NOT NULL UNIQUE,
    instant INTEGER NOT NULL,
    title TEXT NOT NULL,
    paper TEXT NOT NULL,
    attempt INTEGER NOT NULL,
    verdict TEXT,
    darkness INTEGER,
    judged INTEGER NOT NULL,
    words TEXT NOT NULL
) STRICT;
CREATE INDEX print_line_instant ON print_line (instant);
CREATE INDEX print_line_title ON print_line (title, number);
CREATE INDEX print_line_paper ON print_line (paper, number);
CREATE INDEX print_line_verdict ON print_line (verdict, number);
CREATE INDEX print_line_darkness ON print_line (darkness, number);
CREATE INDEX print_line_waiting ON print_line (number) WHERE judged = 0;

CREATE VIRTUAL TABLE print_words USING fts5 (
    words, content = 'print_line', content_rowid = 'number', prefix = '1 2 3',
    tokenize = "unicode61 remove_diacritics 2 tokenchars '#'"
);
-- Every change ever made. `before` is null for a record that was added; `after` is null for one that was deleted, and
-- for one that was added until undoing it takes the record away.
CREATE TABLE journal_entry (
    entry INTEGER PRIMARY KEY AUTOINCREMENT,
    at TEXT NOT NULL,
    instant INTEGER NOT NULL,
    said TEXT NOT NULL,
    state TEXT NOT NULL CHECK (state IN ('done', 'undone', 'passed'))
) STRICT;
CREATE INDEX journal_entry_state ON journal_entry (state, entry);

CREATE TABLE journal_change (
    entry INTEGER NOT NULL REFERENCES journal_entry (entry),
    step INTEGER NOT NULL,
    kind TEXT NOT NULL,
    id TEXT NOT NULL,
    entered INTEGER NOT NULL,
    did TEXT NOT NULL CHECK (did IN ('added', 'edited', 'deleted')),
    before TEXT CHECK (before IS NULL OR json_valid(before)),
    after TEXT CHECK (after IS NULL OR json_valid(after)),
    PRIMARY KEY (entry, step)
) STRICT, WITHOUT ROWID;
CREATE INDEX journal_change_record ON journal_change (kind, id);

-- What belongs to the program on this file rather than to the log.
CREATE TABLE preference (
    key TEXT PRIMARY KEY,
    value TEXT NOT NULL CHECK (json_valid(value))
) STRICT, WITHOUT ROWID;

CREATE TABLE draft (
    name TEXT PRIMARY KEY,
    at TEXT NOT NULL,
    fields TEXT NOT NULL CHECK (json_type(fields) = 'object')
) STRICT, WITHOUT ROWID;

CREATE TABLE thumbnail (
    picture TEXT PRIMARY KEY,
    image BLOB NOT NULL
) STRICT;
