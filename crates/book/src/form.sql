-- What a book is made of. Nothing in it is ever altered or deleted; the triggers refuse it, whoever asks.

CREATE TABLE document (
    id     INTEGER PRIMARY KEY,
    name   TEXT NOT NULL UNIQUE,
    -- The name in small letters: no two documents may share a file where capitals do not count.
    folded TEXT NOT NULL UNIQUE,
    kind   TEXT NOT NULL
) STRICT;

CREATE TABLE revision (
    -- Counts through the whole book, in the order of writing.
    id       INTEGER PRIMARY KEY,
    document INTEGER NOT NULL REFERENCES document (id),
    -- Counts within the document, from 1.
    number   INTEGER NOT NULL,
    -- The revision that the text was made from; none for the first.
    parent   INTEGER REFERENCES revision (id) CHECK (parent < id),
    act      TEXT NOT NULL CHECK (act IN ('edit', 'undo', 'redo', 'go-back')),
    -- The revision whose text is taken up again; none for an edit.
    again    INTEGER REFERENCES revision (id) CHECK (again < id),
    -- UTC, RFC 3339.
    time     TEXT NOT NULL,
    reason   TEXT NOT NULL,
    text     TEXT NOT NULL,
    UNIQUE (document, number),
    CHECK ((act = 'edit') = (again IS NULL))
) STRICT;

-- On which revisions of other documents a revision was drafted.
CREATE TABLE link (
    revision INTEGER NOT NULL REFERENCES revision (id),
    drafted  INTEGER NOT NULL REFERENCES revision (id) CHECK (drafted < revision),
    PRIMARY KEY (revision, drafted)
) STRICT, WITHOUT ROWID;

CREATE TRIGGER document_stays BEFORE UPDATE ON document
BEGIN SELECT RAISE(ABORT, 'documents are never altered'); END;
CREATE TRIGGER document_kept BEFORE DELETE ON document
BEGIN SELECT RAISE(ABORT, 'documents are never deleted'); END;
CREATE TRIGGER document_appended BEFORE INSERT ON document
WHEN NEW.id <= (SELECT coalesce(max(id), 0) FROM document)
    OR EXISTS (SELECT 1 FROM document WHERE name = NEW.name OR folded = NEW.folded)
BEGIN SELECT RAISE(ABORT, 'documents are only added'); END;

CREATE TRIGGER revision_stays BEFORE UPDATE ON revision
BEGIN SELECT RAISE(ABORT, 'revisions are never altered'); END;
CREATE TRIGGER revision_kept BEFORE DELETE ON revision
BEGIN SELECT RAISE(ABORT, 'revisions are never deleted'); END;
CREATE TRIGGER revision_appended BEFORE INSERT ON revision
WHEN NEW.id <= (SELECT coalesce(max(id), 0) FROM revision)
    OR NEW.number <> 1 + (SELECT coalesce(max(number), 0) FROM revision WHERE document = NEW.document)
    OR (NEW.parent IS NOT NULL AND NEW.document IS NOT (SELECT document FROM revision WHERE id = NEW.parent))
    OR (NEW.again IS NOT NULL AND NEW.document IS NOT (SELECT document FROM revision WHERE id = NEW.again))
BEGIN SELECT RAISE(ABORT, 'revisions are only added, one after the other'); END;

CREATE TRIGGER link_stays BEFORE UPDATE ON link
BEGIN SELECT RAISE(ABORT, 'links are never altered'); END;
CREATE TRIGGER link_kept BEFORE DELETE ON link
BEGIN SELECT RAISE(ABORT, 'links are never deleted'); END;
CREATE TRIGGER link_appended BEFORE INSERT ON link
WHEN NEW.revision <> (SELECT max(id) FROM revision)
    OR EXISTS (SELECT 1 FROM link WHERE revision = NEW.revision AND drafted = NEW.drafted)
BEGIN SELECT RAISE(ABORT, 'links are written with their revision'); END;
