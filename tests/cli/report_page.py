"""The page of `report` by a parser that knows nothing of ours: it is well-formed, its parts are
named and point to each other, and everything is inside it.

report_page.py PROGRAM SOURCE_DIR
"""

import pathlib
import subprocess
import sys
import xml.etree.ElementTree as ElementTree

LIMIT_BYTES = 300_000


def page(program, arguments):
    result = subprocess.run([program, "report", *arguments], capture_output=True, check=False)
    assert result.returncode in (0, 1), result.stderr.decode()
    return result.stdout


def check(text):
    """All that should hold of a page; raises where it does not."""
    root = ElementTree.fromstring(text)  # well-formed, in UTF-8
    assert len(text) < LIMIT_BYTES, len(text)
    assert root.attrib["lang"] == "en-GB"
    assert len(root.findall(".//h1")) == 1

    identities = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len(identities) == len(set(identities)), "an id is used twice"
    for element in root.iter():
        assert element.tag != "script"
        for name in ("aria-labelledby", "aria-describedby"):
            for target in element.attrib.get(name, "").split():
                assert target in identities, f"nothing is called {target}"
        for name in ("href", "src"):
            target = element.attrib.get(name)
            assert target is None or target[0] == "#" and target[1:] in identities, target

    for drawing in root.iter("svg"):
        if drawing.attrib.get("role") == "img":
            assert drawing.find("title").text and drawing.find("desc").text
    for figure in root.iter("figure"):
        if figure.attrib.get("class") != "parts":  # whose words are beside it
            assert figure.find("details//table") is not None, "a chart without its figures"
    for table in root.iter("table"):
        columns = len(table.find("thead/tr"))
        assert all(len(row) == columns for row in table.iter("tr"))


def main(program, source):
    sites = [
        path
        for path in sorted(pathlib.Path(source, "examples").glob("*.json"))
        if "amptally-site/1" in path.read_text(encoding="utf-8")
    ]
    assert sites
    runs = [[str(site), "--years", "10"] for site in sites]
    runs += [[str(sites[0]), "--weather", "mean"], ["--demo", "--years", "3"]]
    for name in (']]><b>&"\'--', "no end to it " * 40):
        new_name = ["--set", f"loads[0].name={name}", "--set", f"wiring[1].feeds={name}"]
        runs += [["--demo", "--years", "3", *new_name]]
    for arguments in runs:
        try:
            check(page(program, arguments))
        except (AssertionError, ElementTree.ParseError) as fault:
            sys.exit(f"report {' '.join(arguments)}: {fault or 'not as it should be'}")
    print(f"{len(runs)} pages are well-formed")


if __name__ == "__main__":
    main(*sys.argv[1:])
