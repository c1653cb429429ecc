"""Holds files against a schema: schema.py SCHEMA FOLDER.

A file called good-* must be what the schema allows, one called bad-* must not. Prints each that
is not so; ends with 1 if there is one, with 77 where the schema cannot be held (no jsonschema).
"""

import json
import pathlib
import sys

try:
    from jsonschema import Draft202012Validator
except ImportError:
    sys.exit(77)

schema = json.loads(pathlib.Path(sys.argv[1]).read_text(encoding="utf-8"))
Draft202012Validator.check_schema(schema)
validator = Draft202012Validator(schema)
wrong = 0
for path in sorted(pathlib.Path(sys.argv[2]).glob("*-*")):
    fault = next(validator.iter_errors(json.loads(path.read_text(encoding="utf-8"))), None)
    if (fault is None) != path.name.startswith("good-"):
        wrong += 1
        where = fault.json_path if fault else ""
        print(path.name, where, fault.message[:200] if fault else "is allowed")
sys.exit(1 if wrong else 0)
