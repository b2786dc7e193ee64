"""A shell completes what a person typed: completion.py SHELL PROGRAM SOURCE_DIR

bash and zsh sit at a terminal: the line and a tab are typed, then Ctrl-A puts a printf in front that
tells, word by word, what the line has become. fish answers a question for it.
Skipped (77) where the shell is not installed or there is no terminal for it.
"""

import os
import pty
import re
import select
import shutil
import subprocess
import sys
import tempfile
import time

# What is typed after "amptally ", and the last word that comes of it.
LINES = [
    ("bud", "budget"),
    ("budget --wea", "--weather"),
    ("budget --weather syn", "synthetic"),
    ("budget --format=j", "--format=json"),
    ("budget --color al", "always"),
    ("budget --set battery.capa", "battery.capacity="),
    ("budget --set loads[0].dr", "loads[0].draw="),
    ("budget --set loads[pump].dr", "loads[pump].draw="),
    ("budget --set battery.kind=li", "battery.kind=lifepo4"),
    ("budget --set place.name=hoba", "place.name=hobart"),
    ("explain regulator.stand", "regulator.standby"),
    ("places hoba", "hobart"),
    ("new --place hoba", "hobart"),
    ("schema par", "parts"),
    ("budget garden-s", "garden-site.json"),
    ("budget --demo -o rep", "reports"),
    ("budget --demo --output=rep", "--output=reports"),
    ("budget --weather garden-s", "garden-site.json"),
    ("budget garden-site.json --set a:b=c --dai", "--daily"),
]
PROMPT = "ready> "


def program_folder(program, work):
    os.makedirs(os.path.join(work, "bin"))
    os.symlink(program, os.path.join(work, "bin", "amptally"))
    return os.path.join(work, "bin")


class Terminal:
    """A shell at a terminal of its own."""

    def __init__(self, command, folder, environment):
        self.child, self.side = pty.fork()
        if self.child == 0:
            os.chdir(folder)
            os.execvpe(command[0], command, environment)

    def send(self, text):
        os.write(self.side, text.encode())

    def until(self, pattern, seconds=20):
        seen = ""
        end = time.monotonic() + seconds
        while not re.search(pattern, seen, re.S):
            ready, _, _ = select.select([self.side], [], [], max(0, end - time.monotonic()))
            if not ready:
                raise TimeoutError(f"no {pattern!r} in {seen!r}")
            seen += os.read(self.side, 65536).decode(errors="replace")
        return seen

    def close(self):
        os.close(self.side)
        os.waitpid(self.child, 0)


def start(shell, folder, source, environment):
    scripts = os.path.join(source, "completions")
    environment = {**environment, "TERM": "dumb", "PS1": PROMPT, "HOME": folder}
    if shell == "bash":
        terminal = Terminal(["bash", "--norc", "--noprofile", "-i"], folder, environment)
        setup = f"bind 'set bell-style none'; . {scripts}/amptally.bash"
    else:
        terminal = Terminal(["zsh", "-f", "-i"], folder, environment)
        setup = (f"PROMPT='{PROMPT}'; unsetopt beep prompt_cr prompt_sp; bindkey -e; "
                 f"fpath=({scripts} $fpath); autoload -U compinit; compinit -u -D")
    terminal.send(setup + "; print''f 'set-%s\\n' up\n")
    terminal.until("set-up")
    return terminal


def typed_at_terminal(terminal, line):
    """The words of the line after a tab."""
    terminal.send(f"amptally {line}\t\x01printf '<%s>' \x05\n")
    seen = terminal.until(r"<amptally>(<[^<>]*>)+")
    return re.findall(r"<([^<>%]*)>", seen[seen.rindex("<amptally>"):])[-1]


def asked_of_fish(line, folder, source, environment):
    question = f". {source}/completions/amptally.fish; complete -C 'amptally {line}'"
    ran = subprocess.run(["fish", "--no-config", "-c", question], cwd=folder, env=environment,
                         capture_output=True, text=True, check=True)
    return " or ".join(answer.split("\t")[0] for answer in ran.stdout.splitlines())


def main(shell, program, source):
    if shutil.which(shell) is None:
        print(f"skipped: {shell} is not installed")
        return 77
    failures = 0
    with tempfile.TemporaryDirectory() as work:
        environment = {**os.environ, "LC_ALL": "C.UTF-8", "HOME": work,
                       "PATH": program_folder(program, work) + ":" + os.environ["PATH"]}
        folder = os.path.join(work, "garden")
        os.makedirs(folder)
        open(os.path.join(folder, "garden-site.json"), "w", encoding="utf-8").close()
        os.makedirs(os.path.join(folder, "reports"))
        try:
            terminal = None if shell == "fish" else start(shell, folder, source, environment)
        except OSError as why:
            print(f"skipped: there is no pseudo terminal here: {why}")
            return 77
        for line, wanted in LINES:
            got = (asked_of_fish(line, folder, source, environment) if terminal is None
                   else typed_at_terminal(terminal, line))
            # Shells differ in whether a folder's stroke stands there yet.
            if got.rstrip("/") != wanted:
                failures += 1
                print(f"{shell}: amptally {line}: {got!r}, not {wanted!r}")
        if terminal is not None:
            terminal.close()
    print(f"{shell}: {len(LINES) - failures} of {len(LINES)} lines completed")
    return 1 if failures else 0


sys.exit(main(*sys.argv[1:]))
