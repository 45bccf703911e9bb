"""First migration, second half: wares with their zones and readings, editions, targets and boards.

One path for all evidence: a test tile, a piece, a witness button, a smear of raw material, a chip of a maker's
chart and a bare body are all wares, with zones, layers, what happened to them in order, and readings.
"""

from __future__ import annotations

WARES = """
CREATE TABLE form (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE
) STRICT;

CREATE TABLE edition (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    form_id INTEGER REFERENCES form ON DELETE RESTRICT,
    body_id INTEGER REFERENCES body ON DELETE RESTRICT,
    cone TEXT,
    planned INTEGER,
    yield_share REAL,
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE region (  -- a part of an edition's pieces
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    edition_id INTEGER NOT NULL REFERENCES edition ON DELETE CASCADE,
    name TEXT NOT NULL CHECK (instr(name, char(0)) = 0),
    folded TEXT NOT NULL,
    kind TEXT CHECK (kind IN ('inside', 'lip', 'outside', 'foot')),
    area_dm2 REAL,
    UNIQUE (edition_id, folded)
) STRICT;

CREATE TABLE region_layer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    region_id INTEGER NOT NULL REFERENCES region ON DELETE CASCADE,
    position INTEGER NOT NULL,
    material_id INTEGER NOT NULL REFERENCES material ON DELETE RESTRICT,
    coats REAL NOT NULL,
    wiped INTEGER NOT NULL DEFAULT 0 CHECK (wiped IN (0, 1)),
    UNIQUE (region_id, position)
) STRICT;

CREATE TABLE ware (  -- anything with zones
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    kind TEXT NOT NULL CHECK (kind IN ('tile', 'piece', 'button', 'smear', 'chip', 'body')),
    name TEXT NOT NULL CHECK (instr(name, char(0)) = 0),
    folded TEXT NOT NULL,
    edition_id INTEGER REFERENCES edition ON DELETE RESTRICT,    -- of a piece
    material_id INTEGER REFERENCES material ON DELETE CASCADE,   -- of a smear
    body_id INTEGER REFERENCES body ON DELETE RESTRICT,
    form_id INTEGER REFERENCES form ON DELETE RESTRICT,
    role TEXT CHECK (role IN ('approved', 'piece', 'spare')),    -- of a piece
    note TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE UNIQUE INDEX ware_key ON ware (
    kind, folded, ifnull(edition_id, 0), ifnull(material_id, 0), (CASE kind WHEN 'body' THEN body_id ELSE 0 END)
);

CREATE TABLE ware_event (  -- what happened to a ware, in order
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    ware_id INTEGER NOT NULL REFERENCES ware ON DELETE CASCADE,
    position INTEGER NOT NULL,
    kind TEXT NOT NULL CHECK (kind IN ('layer', 'wipe', 'mask', 'fire')),
    firing_id INTEGER REFERENCES firing ON DELETE RESTRICT,
    place_id INTEGER REFERENCES place ON DELETE RESTRICT,
    cone TEXT,                                                   -- asked, where no firing states it
    refires INTEGER NOT NULL DEFAULT 0 CHECK (refires >= 0),     -- glaze firings before this one
    at TEXT,
    note TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE TABLE zone (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    ware_id INTEGER NOT NULL REFERENCES ware ON DELETE CASCADE,
    name TEXT NOT NULL CHECK (instr(name, char(0)) = 0),
    folded TEXT NOT NULL,
    region_id INTEGER REFERENCES region ON DELETE RESTRICT,      -- on a piece
    relief TEXT CHECK (relief IN ('raised', 'recess')),          -- on a textured tile
    lot_id INTEGER REFERENCES lot ON DELETE RESTRICT,            -- said of the zone where no layer can carry it
    UNIQUE (ware_id, folded)
) STRICT;

CREATE TABLE layer (  -- of a zone, from the body outward
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    zone_id INTEGER NOT NULL REFERENCES zone ON DELETE CASCADE,
    position INTEGER NOT NULL,
    material_id INTEGER NOT NULL REFERENCES material ON DELETE RESTRICT,
    lot_id INTEGER REFERENCES lot ON DELETE RESTRICT,
    coats REAL NOT NULL CHECK (coats > 0),
    wiped INTEGER NOT NULL DEFAULT 0 CHECK (wiped IN (0, 1)),
    method TEXT,
    hand_id INTEGER REFERENCES hand ON DELETE RESTRICT,
    covered_share REAL CHECK (covered_share BETWEEN 0 AND 1),
    specific_gravity REAL,
    weight_g REAL,
    event_id INTEGER REFERENCES ware_event,                      -- the putting on, where it is recorded
    after_event_id INTEGER REFERENCES ware_event,                -- the firing it came after; NULL: none known
    UNIQUE (zone_id, position)
) STRICT;

CREATE TABLE look (  -- sheen and faults of a zone after a firing
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    zone_id INTEGER NOT NULL REFERENCES zone ON DELETE CASCADE,
    event_id INTEGER REFERENCES ware_event ON DELETE CASCADE,
    sheen TEXT CHECK (sheen IN ('gloss', 'satin', 'matt')),
    faults TEXT NOT NULL DEFAULT ''                              -- with spaces between
) STRICT;
CREATE UNIQUE INDEX look_key ON look (zone_id, ifnull(event_id, 0));

CREATE TABLE reading (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    zone_id INTEGER NOT NULL REFERENCES zone ON DELETE CASCADE,
    event_id INTEGER REFERENCES ware_event,                      -- its firing: read after it, raw before it
    stage TEXT NOT NULL CHECK (stage IN ('fired', 'raw', 'maker')),
    number INTEGER NOT NULL DEFAULT 1,
    shot_id INTEGER REFERENCES shot ON DELETE RESTRICT,
    session_id INTEGER REFERENCES session ON DELETE RESTRICT,
    state TEXT CHECK (state IN ('wet', 'dry')),                  -- of a smear
    polygon TEXT,                    -- in the photo as seen
    L REAL NOT NULL,
    a REAL NOT NULL,
    b REAL NOT NULL,
    LL REAL, La REAL, Lb REAL, aa REAL, ab REAL, bb REAL,
    variation_de00 REAL,
    used_share REAL,
    colours TEXT,                    -- the representative ones of a mottled zone
    warnings TEXT NOT NULL DEFAULT '[]',
    set_aside INTEGER NOT NULL DEFAULT 0 CHECK (set_aside IN (0, 1)),
    superseded_by INTEGER REFERENCES reading,
    CHECK ((LL IS NULL) + (La IS NULL) + (Lb IS NULL) + (aa IS NULL) + (ab IS NULL) + (bb IS NULL) IN (0, 6))
) STRICT;
CREATE UNIQUE INDEX reading_key ON reading (zone_id, stage, number) WHERE superseded_by IS NULL;

CREATE TABLE weighing (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    jar_id INTEGER REFERENCES jar ON DELETE CASCADE,
    ware_id INTEGER REFERENCES ware ON DELETE CASCADE,
    kind TEXT NOT NULL CHECK (kind IN ('stocktake', 'before', 'after')),
    gross_g REAL NOT NULL,
    at TEXT NOT NULL,
    CHECK ((jar_id IS NULL) <> (ware_id IS NULL))
) STRICT;

CREATE TABLE application (  -- what one putting on took, between two weighings
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    material_id INTEGER NOT NULL REFERENCES material ON DELETE CASCADE,
    at TEXT NOT NULL CHECK (instr(at, char(0)) = 0),
    at_folded TEXT NOT NULL,
    lot_id INTEGER REFERENCES lot,
    before_id INTEGER REFERENCES weighing,
    after_id INTEGER REFERENCES weighing,
    area_dm2 REAL,
    pieces INTEGER,
    coats REAL,
    method TEXT,
    UNIQUE (material_id, at_folded)
) STRICT;

CREATE TABLE target (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    L REAL NOT NULL,
    a REAL NOT NULL,
    b REAL NOT NULL,
    LL REAL, La REAL, Lb REAL, aa REAL, ab REAL, bb REAL,
    tolerance REAL,
    source TEXT NOT NULL DEFAULT '',                             -- in words: where it comes from
    reading_id INTEGER REFERENCES reading ON DELETE RESTRICT,
    material_id INTEGER REFERENCES material ON DELETE RESTRICT
) STRICT;

CREATE TABLE board (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    name TEXT NOT NULL CHECK (name <> '' AND instr(name, char(0)) = 0),
    folded TEXT NOT NULL UNIQUE,
    target_id INTEGER REFERENCES target ON DELETE RESTRICT,
    body_id INTEGER REFERENCES body ON DELETE RESTRICT,
    cone TEXT,
    made_at TEXT NOT NULL
) STRICT;

CREATE TABLE slot (  -- a planned tile, with what was predicted when it was planned
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    board_id INTEGER NOT NULL REFERENCES board ON DELETE CASCADE,
    position INTEGER NOT NULL,
    zone_id INTEGER REFERENCES zone ON DELETE RESTRICT,          -- what was made of it
    why TEXT NOT NULL DEFAULT '',
    L REAL, a REAL, b REAL,
    LL REAL, La REAL, Lb REAL, aa REAL, ab REAL, bb REAL,
    chance_within REAL,
    program TEXT,
    UNIQUE (board_id, position)
) STRICT;

CREATE TABLE slot_layer (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    slot_id INTEGER NOT NULL REFERENCES slot ON DELETE CASCADE,
    position INTEGER NOT NULL,
    material_id INTEGER NOT NULL REFERENCES material ON DELETE RESTRICT,
    coats REAL NOT NULL CHECK (coats > 0),
    wiped INTEGER NOT NULL DEFAULT 0 CHECK (wiped IN (0, 1)),
    UNIQUE (slot_id, position)
) STRICT;
"""

WARES_INDEXES = (
    ("edition", "form_id"),
    ("edition", "body_id"),
    ("region_layer", "material_id"),
    ("ware", "edition_id"),
    ("ware", "material_id"),
    ("ware", "body_id"),
    ("ware", "form_id"),
    ("ware_event", "ware_id"),
    ("ware_event", "firing_id"),
    ("ware_event", "place_id"),
    ("zone", "region_id"),
    ("zone", "lot_id"),
    ("layer", "material_id"),
    ("layer", "lot_id"),
    ("layer", "hand_id"),
    ("layer", "event_id"),
    ("layer", "after_event_id"),
    ("look", "event_id"),
    ("reading", "zone_id"),
    ("reading", "event_id"),
    ("reading", "shot_id"),
    ("reading", "session_id"),
    ("reading", "superseded_by"),
    ("weighing", "jar_id"),
    ("weighing", "ware_id"),
    ("application", "lot_id"),
    ("application", "before_id"),
    ("application", "after_id"),
    ("target", "reading_id"),
    ("target", "material_id"),
    ("board", "target_id"),
    ("board", "body_id"),
    ("slot", "zone_id"),
    ("slot_layer", "material_id"),
)
"""Every child key without an index of its own."""
