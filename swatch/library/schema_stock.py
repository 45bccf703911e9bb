"""First migration, first half: what is on the shelves, the kiln, and the photos.

Every table is STRICT and counts its ids up, so an undone id is never used again. A name stands beside its
folded form, which is what is unique. CASCADE is for parts of a whole, RESTRICT for what something else rests on.
Cones are text as `swatch.library.words.cone_text` writes them; times are ISO 8601 text; lists are JSON.
"""

from __future__ import annotations

STOCK = """
CREATE TABLE setting (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL UNIQUE,
    value TEXT NOT NULL
) STRICT;

CREATE TABLE material (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    kind TEXT CHECK (kind IN ('underglaze', 'glaze', 'clear', 'slip', 'wash')),
    status TEXT NOT NULL DEFAULT 'in stock' CHECK (status IN ('in stock', 'discontinued', 'used up')),
    cone_from TEXT,
    cone_to TEXT,
    food_label INTEGER CHECK (food_label IN (0, 1)),  -- what the maker states for it alone; NULL: nothing
    food_label_cone TEXT,
    density_g_per_ml REAL,
    lead_days INTEGER,
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE body (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE lot (  -- one purchase or mixing, of a material or of a body; of neither where that was not said
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    material_id INTEGER REFERENCES material ON DELETE CASCADE,
    body_id INTEGER REFERENCES body ON DELETE CASCADE,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL,
    bought TEXT,
    note TEXT NOT NULL DEFAULT '',
    CHECK (material_id IS NULL OR body_id IS NULL)
) STRICT;
CREATE UNIQUE INDEX lot_key ON lot (folded, ifnull(material_id, 0), ifnull(body_id, 0));

CREATE TABLE jar (  -- the jar without name and lot holds what was only stated for the material as a whole
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    material_id INTEGER NOT NULL REFERENCES material ON DELETE CASCADE,
    lot_id INTEGER REFERENCES lot,
    name TEXT NOT NULL DEFAULT '' CHECK (instr(name, char(0)) = 0),
    folded TEXT NOT NULL DEFAULT '',
    tare_g REAL NOT NULL DEFAULT 0,
    opened TEXT,
    locked INTEGER NOT NULL DEFAULT 0 CHECK (locked IN (0, 1))  -- kept back for an edition
) STRICT;
CREATE UNIQUE INDEX jar_key ON jar (material_id, folded, ifnull(lot_id, 0));

CREATE TABLE hand (  -- a named hand setting: "my light coat"
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    method TEXT,
    coats REAL
) STRICT;

CREATE TABLE kiln (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE place (  -- a shelf of a kiln, or a place on it; of no kiln while that is not said
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kiln_id INTEGER REFERENCES kiln ON DELETE CASCADE,
    shelf TEXT NOT NULL CHECK (instr(shelf, char(0)) = 0),
    shelf_folded TEXT NOT NULL,
    spot TEXT NOT NULL DEFAULT '' CHECK (instr(spot, char(0)) = 0),
    spot_folded TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE UNIQUE INDEX place_key ON place (shelf_folded, spot_folded, ifnull(kiln_id, 0));

CREATE TABLE firing (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    kiln_id INTEGER REFERENCES kiln ON DELETE RESTRICT,
    date TEXT,
    cone_asked TEXT,
    peak_c REAL,
    rate_c_per_h REAL,
    hold_min REAL,
    cone_reached TEXT,
    cooling TEXT,
    atmosphere TEXT,
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE firing_log (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    firing_id INTEGER NOT NULL REFERENCES firing ON DELETE CASCADE,
    at_min REAL NOT NULL,
    celsius REAL NOT NULL
) STRICT;

CREATE TABLE witness (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    firing_id INTEGER NOT NULL REFERENCES firing ON DELETE CASCADE,
    place_id INTEGER NOT NULL REFERENCES place ON DELETE RESTRICT,
    cone_reached TEXT NOT NULL,
    UNIQUE (firing_id, place_id)
) STRICT;

CREATE TABLE photo (  -- an original, named by its SHA-256 in photos/
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256 TEXT NOT NULL UNIQUE CHECK (length(sha256) = 64),
    suffix TEXT NOT NULL,
    name TEXT NOT NULL CHECK (instr(name, char(0)) = 0),
    bytes INTEGER NOT NULL,
    width INTEGER,
    height INTEGER,
    taken_at TEXT,
    kept_at TEXT NOT NULL
) STRICT;

CREATE TABLE session (  -- photos taken together: one camera, one lamp, one place
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    camera TEXT,
    lamp TEXT,
    place TEXT
) STRICT;

CREATE TABLE card (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    "rows" INTEGER,
    columns INTEGER,
    learnt INTEGER NOT NULL DEFAULT 0 CHECK (learnt IN (0, 1))
) STRICT;

CREATE TABLE card_patch (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    card_id INTEGER NOT NULL REFERENCES card ON DELETE CASCADE,
    number INTEGER NOT NULL,
    L REAL NOT NULL,
    a REAL NOT NULL,
    b REAL NOT NULL,
    UNIQUE (card_id, number)
) STRICT;

CREATE TABLE shot (  -- one measuring of one photo
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    photo_id INTEGER NOT NULL REFERENCES photo ON DELETE RESTRICT,
    session_id INTEGER REFERENCES session ON DELETE RESTRICT,
    card_id INTEGER REFERENCES card ON DELETE RESTRICT,
    corners TEXT,
    program TEXT NOT NULL,
    verdict TEXT NOT NULL CHECK (verdict IN ('good', 'usable', 'refused')),
    evidence TEXT NOT NULL,  -- score, left-out errors, patches as read, warnings
    made_at TEXT NOT NULL
) STRICT;

CREATE TABLE card_source (  -- a photo a card's own reference was learnt from
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    card_id INTEGER NOT NULL REFERENCES card ON DELETE CASCADE,
    shot_id INTEGER NOT NULL REFERENCES shot ON DELETE RESTRICT,
    UNIQUE (card_id, shot_id)
) STRICT;
"""

STOCK_INDEXES = (
    ("lot", "material_id"),
    ("lot", "body_id"),
    ("jar", "lot_id"),
    ("place", "kiln_id"),
    ("firing", "kiln_id"),
    ("firing_log", "firing_id"),
    ("witness", "place_id"),
    ("shot", "photo_id"),
    ("shot", "session_id"),
    ("shot", "card_id"),
    ("card_source", "shot_id"),
)
"""Every child key without an index of its own: undo of 25,000 rows is twice as fast with them."""
