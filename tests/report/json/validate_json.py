"""Checks JSON files against a JSON Schema: validate_json.py SCHEMA FILE... (python3-jsonschema)."""
import json
import sys

import jsonschema

with open(sys.argv[1], encoding="utf-8") as file:
    schema = json.load(file)
validator_class = jsonschema.validators.validator_for(schema)
validator_class.check_schema(schema)
faults = 0
for name in sys.argv[2:]:
    with open(name, encoding="utf-8") as file:
        for error in validator_class(schema).iter_errors(json.load(file)):
            print(f"{name}: {list(error.absolute_path)}: {error.message}", file=sys.stderr)
            faults += 1
sys.exit(1 if faults else 0)
