"""Is a book whole after its writer was ended at random moments? Read back by Python's own sqlite3, which is built apart from ours.

Usage: python program_book.py WRITER PROGRAM FOLDER. WRITER is the example `write_revisions`, PROGRAM the program, FOLDER is used
for what is written. Needs nothing but the standard library.
The rules of the file's head: SQLite, Database File Format, 1.3 (magic string, application id at byte 68, user version at byte 60).
"""

import json
import os
import random
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

ROUNDS = 20
SEED = 6
failures = []


def check(is_so, words):
    if not is_so:
        failures.append(words)
        print(f"  WRONG: {words}")


def numbers(said):
    """Numbers in whole lines; one that is broken off was never said."""
    return [int(line) for line in said[: said.rfind(b"\n") + 1].split()]


def text_of(number):
    return f"// revision {number}\n" * (600 if number % 10 == 0 else 3)


def read_back(path):
    """Every revision by its number, with the file opened for reading and writing, so that a broken-off change is taken back."""
    book = sqlite3.connect(path)
    check(book.execute("PRAGMA integrity_check").fetchall() == [("ok",)], "integrity_check")
    check(book.execute("PRAGMA foreign_key_check").fetchall() == [], "foreign_key_check")
    texts = dict(book.execute("SELECT id, text FROM revision ORDER BY id"))
    book.close()
    return texts


def ended(writer, path, chance, wait_for):
    """Ends the writer at a random moment; the numbers that it said."""
    child = subprocess.Popen([writer, path, "1000"], stdout=subprocess.PIPE)
    said = b""
    for _ in range(wait_for):
        said += child.stdout.readline()
    time.sleep(chance.random() * 0.006)
    child.kill()
    said += child.stdout.read()
    child.wait()
    return numbers(said)


def sudden_ends(writer, folder):
    path = folder / "ended.notchbook"
    chance = random.Random(SEED)
    last = 0
    for turn in range(ROUNDS):
        said = ended(writer, path, chance, 0 if turn < 4 else chance.randint(1, 60))
        if not path.exists() or path.stat().st_size == 0:
            check(not said, f"round {turn}: something was said and no book is there")
            continue
        texts = read_back(path)
        newest = max(texts, default=0)
        check(sorted(texts) == list(range(1, newest + 1)), f"round {turn}: numbers have gaps")
        check(newest >= max(said, default=last), f"round {turn}: {max(said, default=last)} was said, {newest} is there")
        check(all(text == text_of(number) for number, text in texts.items()), f"round {turn}: a text is altered")
        last = newest
    left = max(0, 1000 - last)
    subprocess.run([writer, path, str(left)], check=True, stdout=subprocess.DEVNULL)
    texts = read_back(path)
    check(len(texts) >= 1000, f"{len(texts)} revisions after all")
    print(f"{ROUNDS} sudden ends, {len(texts)} revisions, all there")
    return path


def head(path):
    bytes_ = path.read_bytes()[:100]
    check(bytes_[:16] == b"SQLite format 3\0", "the magic string")
    check(bytes_[68:72] == b"NoBk", "the application id at byte 68")
    check(int.from_bytes(bytes_[60:64], "big") == 1, "the user version at byte 60")
    check(bytes_[18:20] == b"\1\1", "a rollback journal, so that a book is one file")


def unforgetting(path):
    """Statements that would alter the past are refused by the file itself."""
    book = sqlite3.connect(path)
    for statement in [
        "UPDATE revision SET text = '' WHERE id = 1",
        "DELETE FROM revision WHERE id = 1",
        "REPLACE INTO revision SELECT id, document, number, parent, act, again, time, reason, '' FROM revision WHERE id = 1",
        "DELETE FROM document",
    ]:
        try:
            book.execute(statement)
            check(False, f"not refused: {statement}")
        except sqlite3.IntegrityError:
            pass
    book.close()


def out_and_in(program, folder):
    """The demo goes in, comes out byte for byte, and with all history twice the same."""
    def run(book, *arguments):
        command = [program, "book", *map(str, arguments), "--book", str(book)]
        done = subprocess.run(command, capture_output=True)
        check(done.returncode == 0, f"{arguments}: {done.stderr.decode()}")
        return done.stdout

    one, other = folder / "one.notchbook", folder / "other.notchbook"
    run(one, "import", "examples")
    run(one, "verify")
    dress = Path("examples/concert-dress.kdl").read_bytes()
    check(run(one, "show", "concert-dress.kdl") == dress, "the dress comes out as it went in")
    changed = folder / "concert-dress.kdl"
    changed.write_bytes(dress.replace(b"\n", b"\r\n") + "// ä\n".encode())
    run(one, "import", changed)
    for act in ["undo", "redo", "undo"]:
        run(one, act, "concert-dress.kdl")
    run(one, "export", folder / "first", "--all")
    run(other, "import", folder / "first")
    run(other, "verify")
    run(other, "export", folder / "second", "--all")
    first, second = [
        {file.relative_to(folder / name): file.read_bytes() for file in (folder / name).rglob("*") if file.is_file()}
        for name in ["first", "second"]
    ]
    check(first == second, "an export of what was imported is the same export")
    check(first[Path("revisions/concert-dress.kdl/000002.kdl")] == changed.read_bytes(), "a revision, byte for byte")
    check(first[Path("documents/concert-dress.kdl")] == dress, "the newest text, byte for byte")
    links(one, json.loads(first[Path("history.json")]))


def links(book, history):
    """What history.json tells is what stands in the tables, asked for in SQL."""
    base = sqlite3.connect(book)
    rows = base.execute(
        "SELECT d.name, r.number, e.name FROM link l JOIN revision r ON r.id = l.revision JOIN document d ON d.id = r.document"
        " JOIN revision b ON b.id = l.drafted JOIN document e ON e.id = b.document"
    ).fetchall()
    base.close()
    check(("concert-dress.kdl", 1, "bodies/cellist.kdl") in rows, "the dress says on which body it was drafted")
    told = {one["id"]: one for one in history["revisions"]}
    from_json = {
        (one["document"], one["number"], told[link]["document"])
        for one in told.values()
        for link in one.get("drafted_on", [])
    }
    check(from_json == set(rows), "links in history.json and in the tables")
    print(f"{len(told)} revisions with {len(rows)} links, out and in again")


def full_disk(writer, folder):
    """On a file system of 300 kilobytes, where one can be made (as root on Linux)."""
    place = folder / "small"
    place.mkdir()
    mounted = os.name == "posix" and subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=300k", "tmpfs", place], capture_output=True
    ).returncode == 0
    if not mounted:
        print("SKIPPED: no small file system can be made here")
        return
    try:
        path = place / "book.notchbook"
        done = subprocess.run([writer, path, "1000"], capture_output=True)
        check(done.returncode == 1 and done.stderr.startswith(b"disk-full: "), f"full disk: {done.stderr.decode()}")
        said = numbers(done.stdout)
        check(len(said) > 10, "some revisions fit")
        texts = read_back(path)
        check(sorted(texts) == list(range(1, max(said) + 1)), "what was said is there, and nothing else")
        print(f"full disk: {len(said)} revisions kept")
    finally:
        subprocess.run(["umount", place], check=True)


def main():
    writer, program, folder = (Path(argument).resolve() for argument in sys.argv[1:4])
    folder.mkdir(parents=True, exist_ok=True)
    path = sudden_ends(writer, folder)
    head(path)
    unforgetting(path)
    out_and_in(program, folder)
    full_disk(writer, folder)
    print("failed" if failures else "all well")
    sys.exit(bool(failures))


main()
