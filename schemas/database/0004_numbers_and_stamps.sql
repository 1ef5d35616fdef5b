-- The running number belongs to the print: 412 from the first machine; a copy worked elsewhere has a block of its own, and
-- the number 3,012,000,007 is the seventh of block 3,012. `print_number` remembers every number ever given, also those of
-- prints that are gone. Logbooks begun apart may both have given a number; both prints keep it.
ALTER TABLE print ADD COLUMN number INTEGER CHECK (number >= 1);
UPDATE print SET number = (SELECT n.number FROM print_number AS n WHERE n.print = print.id);

ALTER TABLE print_number RENAME TO print_number_before;
CREATE TABLE print_number (
    print TEXT PRIMARY KEY,
    number INTEGER NOT NULL CHECK (number >= 1)
) STRICT, WITHOUT ROWID;
INSERT INTO print_number (print, number) SELECT print, number FROM print_number_before;
DROP TABLE print_number_before;
CREATE INDEX print_number_number ON print_number (number);

-- Where the logbook and each of its copies give numbers. A file is at home where two of three still hold: the computer, the
-- place, the file itself. Anything else is a copy, and gets a block of its own when it first gives a number.
CREATE TABLE home (
    origin TEXT PRIMARY KEY,
    block INTEGER NOT NULL CHECK (block >= 0),
    computer TEXT NOT NULL,
    place TEXT NOT NULL,
    file TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- The history's list is kept by the order of entry: the last line is what was logged last, whatever its number.
DROP TABLE print_words;
ALTER TABLE print_line RENAME TO print_line_before;
DROP INDEX print_line_instant;
DROP INDEX print_line_title;
DROP INDEX print_line_paper;
DROP INDEX print_line_verdict;
DROP INDEX print_line_darkness;
DROP INDEX print_line_waiting;
CREATE TABLE print_line (
    entered INTEGER PRIMARY KEY,
    number INTEGER NOT NULL,
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
INSERT INTO print_line
    SELECT p.entered, l.number, l.print, l.instant, l.title, l.paper, l.attempt, l.verdict, l.darkness, l.judged, l.words
    FROM print_line_before AS l JOIN print AS p ON p.id = l.print;
DROP TABLE print_line_before;
CREATE INDEX print_line_instant ON print_line (instant);
CREATE INDEX print_line_title ON print_line (title);
CREATE INDEX print_line_paper ON print_line (paper);
CREATE INDEX print_line_verdict ON print_line (verdict);
CREATE INDEX print_line_darkness ON print_line (darkness);
CREATE INDEX print_line_waiting ON print_line (judged) WHERE judged = 0;
CREATE VIRTUAL TABLE print_words USING fts5 (
    words, content = 'print_line', content_rowid = 'entered', prefix = '1 2 3',
    tokenize = "unicode61 remove_diacritics 2 tokenchars '#'"
);
INSERT INTO print_words (print_words) VALUES ('rebuild');
CREATE INDEX print_on_paper ON print (paper);

-- What knew what. A field that was changed after its record was made has a row for each logbook whose change is known: the
-- name of that logbook's session and its counter. `value` is JSON, there only where the change still stands; two that
-- stand beside each other were made apart and wait for a decision. The writer '=VALUE' is the value the record began
-- with. The field '' says whether the record is there.
CREATE TABLE stamp (
    kind TEXT NOT NULL,
    id TEXT NOT NULL,
    field TEXT NOT NULL,
    writer TEXT NOT NULL,
    counter INTEGER NOT NULL CHECK (counter >= 0),
    value TEXT CHECK (value IS NULL OR json_valid(value)),
    PRIMARY KEY (kind, id, field, writer)
) STRICT, WITHOUT ROWID;
CREATE INDEX stamp_counter ON stamp (counter);

-- Each entry's seal is the digest of its changes and of the seal before it. `stamps` is what undoing a merge brings back.
ALTER TABLE journal_entry ADD COLUMN seal TEXT NOT NULL DEFAULT '';
ALTER TABLE journal_entry ADD COLUMN stamps TEXT CHECK (stamps IS NULL OR json_valid(stamps));
