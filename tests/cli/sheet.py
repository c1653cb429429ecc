# Reads the pictures and tables in a folder with general-purpose readers: N.svg must be well-formed,
# without scripts, have no text or box that leaves its page, and in the tables (below TABLES) no text
# that runs into another; N-C-L.csv must have C rows of cables and L of data leads that go somewhere,
# each row as wide as the head, and no cell that a spreadsheet would take for a formula.
import csv, glob, os, sys, unicodedata
import xml.etree.ElementTree as tree

folder = sys.argv[1]
svg = '{http://www.w3.org/2000/svg}'
TABLES = 385
pictures = glob.glob(os.path.join(folder, '*.svg'))
tables = glob.glob(os.path.join(folder, '*.csv'))
assert pictures and len(pictures) == len(tables)


def number(element, key):
    return int(element.get(key))


# From where to where a text reaches, in a type whose columns are 0.6 of its size.
def extent(text):
    columns = sum(0 if unicodedata.combining(c) else 2 if unicodedata.east_asian_width(c) in 'WF' else 1
                  for c in text.text)
    wide = columns * number(text, 'font-size') * 0.6
    left = number(text, 'x') - (wide / 2 if text.get('text-anchor') == 'middle' else 0)
    return left, left + wide


for name in pictures:
    root = tree.parse(name).getroot()
    _, _, w, h = map(int, root.get('viewBox').split())
    assert not list(root.iter(svg + 'script'))
    rows = {}
    for t in root.iter(svg + 'text'):
        left, right = extent(t)
        assert 0 <= left and right <= w and 0 <= number(t, 'y') <= h, (name, t.text)
        if number(t, 'y') >= TABLES:
            rows.setdefault(number(t, 'y'), []).append((left, right, t.text))
    for row in rows.values():
        row.sort()
        assert all(a[1] <= b[0] for a, b in zip(row, row[1:])), (name, row)
    for r in root.iter(svg + 'rect'):
        assert number(r, 'width') > 0, name
        if r.get('x'):
            assert 0 <= number(r, 'x') and number(r, 'x') + number(r, 'width') <= w, name
for name in tables:
    with open(name, newline='', encoding='utf-8') as f:
        rows = list(csv.reader(f, strict=True))
    _, cables, leads = map(int, os.path.basename(name)[:-4].split('-'))
    assert sum(r[0] == 'cable' for r in rows) == cables, name
    assert sum(r[0] in ('hub', 'join', 'plug', 'lead') and r[4] != '' for r in rows) == leads, name
    for r in rows:
        assert len(r) == len(rows[0]), (name, r)
        assert not any(c[:1] in ('=', '+', '-', '@') for c in r), (name, r)
