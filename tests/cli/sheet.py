# Reads the pictures and tables in a folder with general-purpose readers: N.svg must be well-formed,
# without scripts, and have no text outside of its page; N-C-L.csv must have C rows of cables and L of
# data leads that go somewhere, each row as wide as the head, and no cell that a spreadsheet would
# take for a formula.
import csv, glob, os, sys
import xml.etree.ElementTree as tree

folder = sys.argv[1]
svg = '{http://www.w3.org/2000/svg}'
pictures = glob.glob(os.path.join(folder, '*.svg'))
tables = glob.glob(os.path.join(folder, '*.csv'))
assert pictures and len(pictures) == len(tables)
for name in pictures:
    root = tree.parse(name).getroot()
    _, _, w, h = map(int, root.get('viewBox').split())
    assert not list(root.iter(svg + 'script'))
    for t in root.iter(svg + 'text'):
        assert 0 <= int(t.get('x')) <= w and 0 <= int(t.get('y')) <= h, (name, t.text)
for name in tables:
    with open(name, newline='', encoding='utf-8') as f:
        rows = list(csv.reader(f, strict=True))
    _, cables, leads = map(int, os.path.basename(name)[:-4].split('-'))
    assert sum(r[0] == 'cable' for r in rows) == cables, name
    assert sum(r[0] in ('hub', 'join', 'plug', 'lead') and r[4] != '' for r in rows) == leads, name
    for r in rows:
        assert len(r) == len(rows[0]), (name, r)
        assert not any(c[:1] in ('=', '+', '-', '@') for c in r), (name, r)
