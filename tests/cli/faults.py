"""What goes wrong around the program, and what its user then sees: for every command, a plain line
and the right status, never a signal, half a file or half a result.

Usage: faults.py PROGRAM SOURCE_DIR
"""
import contextlib
import fcntl
import os
import pty
import resource
import shutil
import signal
import struct
import subprocess
import sys
import tempfile
import termios
import time

PROGRAM = sys.argv[1]
SOURCE = sys.argv[2]
SITE = os.path.join(SOURCE, "examples", "terrace.json")
PARTS = os.path.join(SOURCE, "examples", "parts.json")
failures = 0

# Every command that reads a site, with what it needs besides; little, so that all are quick.
READING = {
    "budget": ["--weather", "mean"],
    "size": ["--weather", "mean"],
    "fit": ["--weather", "mean", "--load", "valve: 300 mA, 20 min/day"],
    "levers": ["--weather", "mean"],
    "sweep": ["--weather", "mean", "--vary", "panel.power=20,50,100"],
    "sun": [],
    "water": [],
    "wiring": [],
    "check": [],
    "report": ["--weather", "mean"],
}
# And every other.
TELLING = {
    "places": ["Berlin"],
    "explain": ["battery.capacity"],
    "new": [],
    "schema": [],
    "--help": [],
    "--version": [],
}
MET, MISSED, REFUSED, UNWRITTEN, OUT_OF_ORDER = 0, 1, 2, 4, 70

with open(PROGRAM, "rb") as file:
    IS_SANITIZED = b"__asan_init" in file.read()  # takes terabytes of addresses for itself


def expect(what, given, wanted):
    global failures
    if given != wanted:
        failures += 1
        print(f"FAILED: {what}\n  got:    {given!r}\n  wanted: {wanted!r}")


def expect_in(what, text, part):
    if part not in text:
        expect(what, text, f"... {part} ...")


def words_of(command, site=SITE):
    """The command line of any command."""
    if command in TELLING:
        return [PROGRAM, command, *TELLING[command]]
    return [PROGRAM, command, site, *READING[command]]


def run(words, environment=None, **more):
    more.setdefault("stdin", subprocess.DEVNULL)
    more.setdefault("stdout", subprocess.PIPE)
    return subprocess.run(words, stderr=subprocess.PIPE, check=False, timeout=300,
                          env=dict(os.environ, **(environment or {})), **more)


def messages(done):
    return done.stderr.decode(errors="replace")


def expect_one_line(what, done, status, part):
    """A status, and one line that says why."""
    lines = messages(done).splitlines()
    expect(f"{what}: status", done.returncode, status)
    expect(f"{what}: one line", len(lines), 1)
    expect_in(what, messages(done), part)
    expect(f"{what}: is from the program", messages(done).startswith("amptally: "), True)


@contextlib.contextmanager
def folder():
    """A folder that anyone may look into, gone at the end."""
    path = tempfile.mkdtemp()
    os.chmod(path, 0o755)
    try:
        yield path
    finally:
        shutil.rmtree(path)


@contextlib.contextmanager
def mounted(path, *options):
    """Whether a small file system of these options could be mounted there."""
    mount = shutil.which("mount")
    done = mount and subprocess.run([mount, "-t", "tmpfs", "-o", ",".join(options), "none", path],
                                    check=False, stderr=subprocess.DEVNULL)
    is_mounted = bool(done) and done.returncode == 0
    try:
        yield is_mounted
    finally:
        if is_mounted:
            subprocess.run(["umount", path], check=True)


def writes_file(command):
    return not command.startswith("--") and command != "places" and command != "explain"


# ---- Output that cannot be written -----------------------------------------------------------


def test_full_device():
    if not os.path.exists("/dev/full"):
        print("skipped: there is no /dev/full here")
        return
    for command in [*READING, *TELLING]:
        with open("/dev/full", "wb") as full:
            done = run(words_of(command), stdout=full)
        expect(f"{command} on a full device: status", done.returncode, UNWRITTEN)
        expect_in(f"{command} on a full device", messages(done),
                  "amptally: cannot write standard output: No space left on device\n")


def test_reader_gone():
    for command in [*READING, *TELLING]:
        for action in (signal.SIG_DFL, signal.SIG_IGN):
            read_end, write_end = os.pipe()
            os.close(read_end)
            done = run(words_of(command), stdout=write_end, restore_signals=False,
                       preexec_fn=lambda wanted=action: signal.signal(signal.SIGPIPE, wanted))
            os.close(write_end)
            wanted = UNWRITTEN if action == signal.SIG_IGN else -signal.SIGPIPE
            expect(f"{command} into a closed pipe: status", done.returncode, wanted)
            expect(f"{command} into a closed pipe: not a word of it",
                   "cannot write" in messages(done), False)


def test_full_disk():
    with folder() as work, mounted(work, "size=4k") as is_small:
        if not is_small:
            print("skipped: no small file system can be mounted here to be a full disk")
            return
        for command in filter(writes_file, [*READING, *TELLING]):
            there = os.path.join(work, "old")
            with open(there, "w", encoding="utf-8") as old:
                old.write("old\n")
            # new goes over no file that is there.
            target = os.path.join(work, "fresh") if command == "new" else there
            done = run([*words_of(command), "-o", target])
            expect(f"{command} -o on a full disk: status", done.returncode, UNWRITTEN)
            expect_in(f"{command} -o on a full disk", messages(done),
                      f"amptally: cannot write {target}: No space left on device\n")
            with open(there, encoding="utf-8") as old:
                expect(f"{command} -o on a full disk: the old file", old.read(), "old\n")
            expect(f"{command} -o on a full disk: nothing else", os.listdir(work), ["old"])


def as_nobody():
    """How to run without root's powers, which no permission binds; None where that cannot be."""
    if os.getuid() != 0:
        return {}
    more = {"user": 65534, "group": 65534, "extra_groups": []}
    try:
        return more if run([PROGRAM, "--version"], **more).returncode == 0 else None
    except OSError:
        return None


def test_permissions():
    more = as_nobody()
    if more is None:
        print("skipped: the program cannot be run by another user here")
        return
    with folder() as work:
        site = os.path.join(work, "site.json")
        shutil.copy(SITE, site)
        os.chmod(site, 0o644)
        closed = os.path.join(work, "closed")
        os.mkdir(closed, 0o555)
        target = os.path.join(closed, "result")
        for command in filter(writes_file, [*READING, *TELLING]):
            done = run([*words_of(command, site), "-o", target], **more)
            expect(f"{command} -o in a read-only folder: status", done.returncode, UNWRITTEN)
            expect_in(f"{command} -o in a read-only folder", messages(done),
                      f"amptally: cannot write {target}: Permission denied\n")
            expect(f"{command} -o in a read-only folder: nothing", os.listdir(closed), [])
        os.chmod(site, 0)
        for command in READING:
            expect_one_line(f"{command} of an unreadable file",
                            run(words_of(command, site), **more), REFUSED, f"{site}: cannot be opened")


def test_no_target():
    with folder() as work:
        for target, why in ((work, "Is a directory"),
                            (os.path.join(work, "nowhere", "result"), "No such file or directory"),
                            (os.path.join(work, "x" * 300), "File name too long")):
            for command in filter(writes_file, [*READING, *TELLING]):
                done = run([*words_of(command), "-o", target])
                expect(f"{command} -o {target}: status", done.returncode, UNWRITTEN)
                expect_in(f"{command} -o {target}", messages(done),
                          f"amptally: cannot write {target}: {why}\n")
        expect("where nothing can be written: nothing", os.listdir(work), [])


def test_killed():
    with folder() as work:
        target = os.path.join(work, "old")
        with open(target, "w", encoding="utf-8") as old:
            old.write("old\n")
        endless = [PROGRAM, "sweep", SITE, "--weather", "mean", "--vary",
                   "battery.capacity=7..9007:0.0001", "-o", target, "--quiet"]
        killed = subprocess.Popen(endless, stderr=subprocess.DEVNULL)
        until = time.monotonic() + 60
        while time.monotonic() < until:
            if any(entry.stat().st_size > 0 and entry.name != "old" for entry in os.scandir(work)):
                break
            time.sleep(0.01)
        expect("it was writing when it was killed", len(os.listdir(work)), 2)
        killed.kill()
        killed.wait()
        expect("killed in the midst of writing", killed.returncode, -signal.SIGKILL)
        with open(target, encoding="utf-8") as old:
            expect("killed in the midst of writing: the old file", old.read(), "old\n")


# ---- Input that is no file to read -----------------------------------------------------------


def test_no_file():
    with folder() as work:
        dangling = os.path.join(work, "dangling")
        os.symlink(os.path.join(work, "nowhere"), dangling)
        loop = os.path.join(work, "loop")
        os.symlink(loop, loop)
        below = os.path.join(SITE, "site.json")
        for path, why in ((dangling, "no such file"), (work, "is a folder, not a file"),
                          (loop, "cannot be opened"), (below, "no such file"),
                          (os.path.join(work, "x" * 300), "cannot be opened")):
            for command in READING:
                expect_one_line(f"{command} of {path}", run(words_of(command, path)), REFUSED,
                                f"{path}: {why}")
            for words in (["budget", SITE, "--weather", path], ["size", SITE, "--parts", path],
                          ["sweep", SITE, "--from", path]):
                expect_one_line(f"{words[2]} {path}", run([PROGRAM, *words]), REFUSED,
                                f"{path}: {why}")


def test_named_pipe():
    with folder() as work:
        pipe = os.path.join(work, "pipe")
        os.mkfifo(pipe)
        for command in READING:
            feeder = subprocess.Popen(["cp", "--", SITE, pipe])
            done = run(words_of(command, pipe))
            feeder.kill()  # in vain, unless nobody has read what it gives
            feeder.wait()
            expect(f"{command} of a named pipe: status", done.returncode in (MET, MISSED), True)
            expect(f"{command} of a named pipe: as of a file",
                   done.stdout.replace(pipe.encode(), SITE.encode()), run(words_of(command)).stdout)


def test_endless_file():
    with folder() as work:
        huge = os.path.join(work, "huge")
        with open(huge, "wb") as file:
            file.truncate(300 << 20)
        for path in (huge, "/dev/zero"):
            for command in READING:
                expect_one_line(f"{command} of {path}", run(words_of(command, path)), REFUSED,
                                f"{path}: larger than 4 MiB, the most that is read")
        for words, most in ((["budget", SITE, "--weather", huge], "64 MiB"),
                            (["size", SITE, "--parts", huge], "4 MiB"),
                            (["sweep", SITE, "--from", huge], "256 MiB")):
            expect_one_line(f"{words[2]} {huge}", run([PROGRAM, *words]), REFUSED,
                            f"{huge}: larger than {most}, the most that is read")


# ---- Memory, locale, zone, terminal ----------------------------------------------------------


def within(kibibytes, words):
    most = kibibytes << 10
    return run(words, preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_AS, (most, most)))


def test_no_memory():
    if IS_SANITIZED:
        print("skipped: a program with sanitizers needs more memory than there is to take away")
        return
    told = 0
    # Below this not even the libraries can be loaded, nor their reserve for saying so be set apart.
    least = next(kibibytes for kibibytes in range(4 << 10, 32 << 10, 512)
                 if within(kibibytes, [PROGRAM, "--version"]).returncode == 0)
    # These two share their work among threads, which the system may not have to give either.
    threaded = [[PROGRAM, "budget", SITE],
                [PROGRAM, "sweep", SITE, "--vary", "panel.power=20,50", "--quiet"]]
    for words in [*map(words_of, [*READING, *TELLING]), *threaded]:
        enough = 0
        for kibibytes in range(least, 32 << 10, 512):
            if enough == 6 and words not in threaded:
                break  # what does with little does with more
            done = within(kibibytes, words)
            enough = 0 if done.returncode == OUT_OF_ORDER else enough + 1
            what = f"{words[1]} within {kibibytes} KiB"
            if done.returncode == OUT_OF_ORDER:
                expect(f"{what}: the last line", messages(done).splitlines()[-1],
                       "amptally: out of memory")
                told += 1
            else:
                expect(f"{what}: status", done.returncode in (MET, MISSED), True)
    print(f"memory was short {told} times")
    expect("memory was short at times", told > 0, True)


@contextlib.contextmanager
def comma_locale():
    """The environment of a locale whose decimal point is a comma; None if it cannot be made."""
    with folder() as work:
        source = os.path.join(work, "source")
        with open(source, "w", encoding="utf-8") as file:
            file.write("comment_char %\nescape_char /\nLC_NUMERIC\ndecimal_point \",\"\n"
                       "thousands_sep \".\"\ngrouping 3;3\nEND LC_NUMERIC\n")
        environment = {"LOCPATH": work, "LC_ALL": "comma"}
        with contextlib.suppress(FileNotFoundError):
            subprocess.run(["localedef", "--force", "--no-archive", "-i", source,
                            os.path.join(work, "comma")], check=False, capture_output=True)
        shown = run(["printf", "%.1f", "0"], environment).stdout
        yield environment if shown == b"0,0" else None


def expect_as_usual(surroundings):
    """Every command says to the byte what it says in a plain UTF-8 locale and in UTC."""
    for command in [*READING, *TELLING]:
        usual = run(words_of(command), {"LC_ALL": "C.UTF-8", "TZ": "UTC"})
        expect(f"{command}: status", usual.returncode in (MET, MISSED), True)
        for environment in surroundings:
            done = run(words_of(command), environment)
            expect(f"{command} with {environment}: status", done.returncode, usual.returncode)
            expect(f"{command} with {environment}", done.stdout, usual.stdout)
            expect(f"{command} with {environment}: messages", done.stderr, usual.stderr)


def test_decimal_comma():
    with comma_locale() as environment:
        if environment is None:
            print("skipped: no locale with a decimal comma can be made here")
            return
        expect_as_usual([environment])


def test_locales_and_zones():
    expect_as_usual([
        {"LC_ALL": "C", "TZ": "Pacific/Kiritimati", "COLUMNS": "0"},
        {"LC_ALL": "POSIX", "TZ": "Asia/Kathmandu", "COLUMNS": "-3"},
        {"LC_ALL": "de_DE.UTF-8", "TZ": "XXX-13:45", "COLUMNS": "99999999999"},
        {"LC_ALL": "nonsense", "TZ": "garbage", "COLUMNS": "many"},
        {"LC_ALL": "", "TZ": ":nonsense"},
        {"TZ": ""},
    ])


def test_empty_environment():
    for command in [*READING, *TELLING]:
        usual = run(words_of(command))
        done = subprocess.run(words_of(command), check=False, capture_output=True, env={},
                              stdin=subprocess.DEVNULL, cwd="/", start_new_session=True, timeout=300)
        expect(f"{command} without environment", done.stdout, usual.stdout)


def test_closed_streams():
    for command in [*READING, *TELLING]:
        usual = run(words_of(command))
        done = run(words_of(command), stdin=None, preexec_fn=lambda: os.close(0))
        expect(f"{command} without standard input", done.stdout, usual.stdout)
        done = run(words_of(command), preexec_fn=lambda: os.close(2))
        expect(f"{command} without standard error: status", done.returncode, usual.returncode)
        expect(f"{command} without standard error", done.stdout, usual.stdout)


def on_terminal(words, columns):
    """What a terminal of that width is sent, and the status."""
    controller, terminal = pty.openpty()
    fcntl.ioctl(terminal, termios.TIOCSWINSZ, struct.pack("HHHH", 24, columns, 0, 0))
    environment = {name: value for name, value in os.environ.items() if name != "COLUMNS"}
    environment.update(LC_ALL="C.UTF-8", TERM="xterm", NO_COLOR="1")
    running = subprocess.Popen(words, stdin=terminal, stdout=terminal, stderr=subprocess.DEVNULL,
                               env=environment)
    os.close(terminal)
    shown = b""
    with contextlib.suppress(OSError):  # the end of a terminal, on Linux
        while chunk := os.read(controller, 65536):
            shown += chunk
    os.close(controller)
    return shown.decode().replace("\r\n", "\n"), running.wait()


def has_terminals():
    """Whether the system has a pseudo terminal to give."""
    try:
        for side in pty.openpty():
            os.close(side)
        return True
    except OSError:
        return False


def test_terminal_widths():
    if not has_terminals():
        print("skipped: there is no pseudo terminal here")
        return
    for command in [*READING, *TELLING]:
        usual = run(words_of(command))
        for columns in (0, 1, 40, 300, 65535):
            shown, status = on_terminal(words_of(command), columns)
            if command == "report":  # a page is nothing to show there, and it says so
                expect(f"{command} on a terminal: status", status, REFUSED)
                continue
            expect(f"{command} on {columns} columns: status", status, usual.returncode)
            expect(f"{command} on {columns} columns: says something", len(shown) > 5, True)
            for_people = command in READING and command != "sweep"
            if for_people and columns in (40, 300):
                widest = max(map(len, shown.splitlines()))
                expect(f"{command} on {columns} columns: fits", widest <= columns, True)


for name, test in list(globals().items()):
    if name.startswith("test_"):
        began = time.monotonic()
        test()
        print(f"{name}: {time.monotonic() - began:.1f} s", flush=True)
sys.exit(failures > 0)
