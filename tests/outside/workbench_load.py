#!/usr/bin/env python3
"""Edits at the workbench as if 50 pages were open, and whether its memory grows.

    tests/outside/workbench_load.py PROGRAM [--seconds 60] [--pages 50]

Starts `PROGRAM open` on a new book in a folder of its own, on the loopback address only, and ends it again. Each page sends one
edit a second to a garment of its own, over a connection of its own: drags let go, numbers typed, undo. After a warm-up of a fifth of the
time the resident memory (VmRSS of /proc/PID/status, proc(5)) is noted; at the end it must not be much larger: what a book that
has grown by thousands of revisions may take is counted in. Also prints how long answers took, and fails when an answer is a
mistake of the program.
"""

import argparse
import http.client
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import threading
import time
from urllib.parse import urlsplit

DRESS = "concert-dress.kdl"
# What the allocator keeps for itself after other threads have worked, MB; growth with every edit is far more in a minute.
SLACK_MB = 24.0


def resident_mb(pid: int) -> float:
    with open(f"/proc/{pid}/status", encoding="ascii") as status:
        return int(re.search(r"VmRSS:\s+(\d+) kB", status.read()).group(1)) / 1024


def cpu_seconds(pid: int) -> float:
    with open(f"/proc/{pid}/stat", encoding="ascii") as stat:
        fields = stat.read().rsplit(")", 1)[1].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


class Page:
    """One page: a connection, the key and what it knows of its garment."""

    def __init__(self, address: str, number: int):
        parts = urlsplit(address)
        self.host, self.number = parts.netloc, number
        self.key = parts.query.removeprefix("key=")
        self.connection = http.client.HTTPConnection(self.host, timeout=60)
        self.name, self.on, self.handle = DRESS, 1, None
        self.took, self.faults = [], []

    def ask(self, method: str, path: str, sent=None):
        began = time.monotonic()
        headers = {"x-notchbook-key": self.key}
        self.connection.request(method, path, None if sent is None else json.dumps(sent), headers)
        answer = self.connection.getresponse()
        body = json.loads(answer.read())
        self.took.append(time.monotonic() - began)
        if answer.status >= 500:
            self.faults.append(f"{method} {path}: {answer.status} {body}")
        return answer.status, body

    def begin(self):
        wish = {"title": f"Dress {self.number}", "from": DRESS, "kind": "dress"}
        _, book = self.ask("POST", "/api/book/garment", wish)
        self.name = book["begun"]
        _, garment = self.ask("GET", f"/api/garment?name={self.name}")
        self.see(garment)

    def edit(self, turn: int):
        """One edit: a drag let go, a number typed or the way back; what comes back says on which revision the next stands."""
        kind = turn % 4
        if kind == 3:
            status, garment = self.ask("POST", "/api/undo", {"name": self.name})
            if status == 409:  # nothing to undo yet
                return
        elif kind == 2:
            written = f"{70 + turn % 30} mm"
            sent = {"name": self.name, "on": self.on, "id": "neckline.depth", "written": written}
            _, garment = self.ask("POST", "/api/garment/number", sent)
        else:
            x, y = self.handle["at"]
            to = [x, y + (turn % 7 - 3) * 4]
            sent = {"name": self.name, "on": self.on, "handle": "neckline.depth", "to": to}
            _, garment = self.ask("POST", "/api/garment/drag-end", sent)
        self.see(garment)

    def see(self, garment):
        if "problem" in garment:
            self.faults.append(f"{self.name}: {garment['problem']}")
            return
        self.on = garment["revision"]
        self.handle = next(one for one in garment["handles"] if one["id"] == "neckline.depth")


def work(page: Page, until: float):
    turn = page.number
    while time.monotonic() < until:
        next_at = time.monotonic() + 1.0
        page.edit(turn)
        turn += 1
        time.sleep(max(0.0, min(next_at, until) - time.monotonic()))


def main() -> int:
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("program")
    arguments.add_argument("--seconds", type=float, default=60.0)
    arguments.add_argument("--pages", type=int, default=50)
    given = arguments.parse_args()
    if not 1 <= given.pages <= 200 or not 2 <= given.seconds <= 600:
        arguments.error("from 1 to 200 pages and from 2 to 600 seconds can be tried")
    with tempfile.TemporaryDirectory() as folder:
        began = time.monotonic()
        command = [given.program, "open", "--book", os.path.join(folder, "book"), "--no-browser"]
        with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as program:
            try:
                return measured(program, began, given)
            finally:
                program.send_signal(signal.SIGINT)
                try:
                    program.wait(10)
                except subprocess.TimeoutExpired:
                    program.kill()


def measured(program, began: float, given) -> int:
    address = re.search(r"http://127\.0\.0\.1:\d+/\?key=\w+", program.stdout.readline()).group(0)
    first = Page(address, 0)
    first.ask("POST", "/api/book/begin", {"how": "demo"})
    first.ask("GET", f"/api/garment?name={DRESS}")
    print(f"begun and first garment shown: {(time.monotonic() - began) * 1000:.0f} ms")
    time.sleep(0.5)
    idle = resident_mb(program.pid)
    pages = [Page(address, number) for number in range(given.pages)]
    for page in pages:
        page.begin()
        page.took.clear()
    until, cpu = time.monotonic() + given.seconds, cpu_seconds(program.pid)
    threads = [threading.Thread(target=work, args=(page, until), daemon=True) for page in pages]
    for thread in threads:
        thread.start()
    time.sleep(given.seconds * 0.4)
    warm = resident_mb(program.pid)
    for thread in threads:
        thread.join(given.seconds + 120)
    end = resident_mb(program.pid)
    cpu = cpu_seconds(program.pid) - cpu
    return told(pages, (idle, warm, end), first, cpu)


def told(pages, memory, first, cpu) -> int:
    idle, warm, end = memory
    took = sorted(one for page in pages for one in page.took)
    if not took:
        print("no page was answered")
        return 1
    middle, late = took[len(took) // 2], took[int(len(took) * 0.95)]
    print(f"{len(took)} requests of {len(pages)} pages; median {middle * 1000:.1f} ms, 95th percentile {late * 1000:.1f} ms")
    print(f"processor time: {cpu / len(took) * 1000:.1f} ms an edit")
    print(f"resident memory: idle {idle:.1f} MB, warm {warm:.1f} MB, at the end {end:.1f} MB")
    faults = [fault for page in [*pages, first] for fault in page.faults]
    for fault in faults[:5]:
        print("MISTAKE OF THE PROGRAM:", fault)
    if idle > 80.0:
        print("idle memory is above 80 MB")
    grown = end - warm > SLACK_MB
    if grown:
        print(f"memory grew by more than {SLACK_MB:.0f} MB")
    return int(bool(faults) or grown or idle > 80.0)


if __name__ == "__main__":
    sys.exit(main())
