"""What only a real process shows of a sweep: Ctrl-C, memory, the progress line of a terminal.

Usage: sweep_process.py PROGRAM
"""
import json
import os
import pty
import signal
import subprocess
import sys
import tempfile

PROGRAM = sys.argv[1]
with open(PROGRAM, "rb") as program:
    IS_SANITIZED = b"__asan_init" in program.read()  # slow, and everything takes more room
failures = 0

# Combinations that are refused: quick, as many as wanted.
REFUSED = ["--weather", "mean", "--set", "regulator.reconnect=12.5 V", "--vary", "regulator.cutoff=13 V"]
STOPPING = [signal.SIGINT, signal.SIGTERM, signal.SIGHUP]
# More than anyone waits for.
ENDLESS = ["--weather", "mean", "--vary", "battery.capacity=7..9007:0.0001"]


def expect(what, given, wanted):
    global failures
    if given != wanted:
        failures += 1
        print(f"FAILED: {what}\n  got:    {given!r}\n  wanted: {wanted!r}")


def sweep(*words):
    return [PROGRAM, "sweep", "--demo", *words]


def heed_signals():
    # Test drivers may have been started with signals ignored, which children inherit.
    for heeded in STOPPING:
        signal.signal(heeded, signal.SIG_DFL)


def interrupted(*words, wait_for_output, by=signal.SIGINT):
    run = subprocess.Popen(sweep(*words), stdout=subprocess.PIPE, stderr=subprocess.PIPE, bufsize=0,
                           preexec_fn=heed_signals)
    first = run.stdout.readline() if wait_for_output else b""
    if not wait_for_output:
        run.stderr.readline()  # the remark on rough numbers or the progress: it has begun
    run.send_signal(by)
    out, err = run.communicate(timeout=120)
    return run.returncode, (first + out).decode(), err.decode()


def test_interrupt():
    status, out, err = interrupted(*ENDLESS, "--quiet", wait_for_output=True)
    expect("Ctrl-C is status 130", status, 130)
    expect("the last line is whole", out.endswith("}\n"), True)
    records = [json.loads(line) for line in out.splitlines()]
    expect("all that came is there from the first on", records[0]["battery.capacity"], 7)
    expect("and in order", records, sorted(records, key=lambda record: record["battery.capacity"]))
    expect("how far it came is said", err,
           f"amptally: stopped after {len(records)} of 90000001 records\n")


def test_interrupt_keeps_file():
    for by in STOPPING:
        with tempfile.TemporaryDirectory() as folder:
            target = os.path.join(folder, "records.jsonl")
            with open(target, "w", encoding="utf-8") as file:
                file.write("old\n")
            # A rough number makes it say something before it begins.
            status, out, _ = interrupted(*ENDLESS, "--set", "loads[0].draw=1..2 A", "-o", target,
                                         wait_for_output=False, by=by)
            expect(f"{by.name} with a file is 128 and its number", status, 128 + by)
            expect("nothing goes elsewhere", out, "")
            with open(target, encoding="utf-8") as file:
                expect("the old file is as it was", file.read(), "old\n")
            expect("no part of the new one is left", os.listdir(folder), ["records.jsonl"])


def test_ignored_interrupt():
    run = subprocess.Popen(sweep(*REFUSED, "--vary", "battery.capacity=1..3001:1", "--quiet"),
                           stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, bufsize=0,
                           preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_IGN))
    run.stdout.readline()
    run.send_signal(signal.SIGINT)
    out, _ = run.communicate(timeout=120)
    expect("an ignored signal stays ignored", len(out.splitlines()), 3000)


def peak_kib(count):
    words = sweep("--years", "2", "--vary", "battery.capacity=7..40 Ah", "--vary", "panel.power=20..200 W",
                  "--random", str(count), "--quiet")
    environment = dict(os.environ, ASAN_OPTIONS="quarantine_size_mb=1")
    run = subprocess.Popen(words, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, env=environment)
    _, status, usage = os.wait4(run.pid, 0)
    run.returncode = os.waitstatus_to_exitcode(status)
    expect("all of them are run", run.returncode, 0)
    return usage.ru_maxrss


def test_memory():
    # The program makes up to 1,024 records at a time, fewer where each is slow (cli/pace.hpp), so a
    # busy machine may keep 128 in one run and 1,024 in another: seen, 4 MB more; sanitized, 12 MB.
    # Held back, the text of 60,000 would be 33 MB, the sites of 20,000 sanitized 200 MB.
    count, most = (20000, 40 << 10) if IS_SANITIZED else (60000, 12 << 10)
    few = peak_kib(3000)
    many = peak_kib(count)
    expect(f"memory does not grow with the records ({few} and {many} KiB)", many - few < most, True)


def test_progress():
    try:
        controller, terminal = pty.openpty()
    except OSError as why:
        print(f"skipped: there is no pseudo terminal here: {why}")
        return
    run = subprocess.Popen(sweep(*REFUSED, "--vary", "battery.capacity=1..2000:1"),
                           stdout=subprocess.DEVNULL, stderr=terminal)
    os.close(terminal)
    said = b""
    try:
        while chunk := os.read(controller, 4096):
            said += chunk
    except OSError:
        pass  # the end of a terminal, on Linux
    run.wait()
    expect("a terminal is told the progress", b" of 2000 records (" in said, True)
    run = subprocess.run(sweep(*REFUSED, "--vary", "battery.capacity=1..2000:1"), check=False,
                         stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)
    expect("a pipe is not", b" of 2000 records (" in run.stderr, False)


def test_reader_leaves():
    run = subprocess.Popen(sweep(*ENDLESS, "--quiet"), stdout=subprocess.PIPE, stderr=subprocess.PIPE,
                           bufsize=0)
    run.stdout.readline()
    run.stdout.close()
    run.wait(timeout=120)
    expect("a reader that leaves is passed over in silence", run.stderr.read(), b"")


for test in [test_interrupt, test_interrupt_keeps_file, test_ignored_interrupt, test_memory,
             test_progress, test_reader_leaves]:
    test()
sys.exit(failures > 0)
