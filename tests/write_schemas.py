"""Writes the JSON Schema files again after a model has changed: run `python tests/write_schemas.py`."""

from pathlib import Path

from proposal.model.schema import schema_text, schemas

ROOT = Path(__file__).resolve().parent.parent
MASTER = ROOT / "shared" / "schema"
# What a project folder holds a copy of: the kinds of its own YAML files.
COPIES = (ROOT / "example_project" / "schema", ROOT / "shared" / "starter" / "schema")
COPIED_KINDS = ("alternate", "building", "fixed", "labour", "project", "requirements", "room", "room_type")


def main() -> None:
    for kind, schema in schemas().items():
        for folder in (MASTER, *(COPIES if kind in COPIED_KINDS else ())):
            folder.mkdir(parents=True, exist_ok=True)
            (folder / f"{kind}.schema.json").write_text(schema_text(schema), encoding="utf-8")


if __name__ == "__main__":
    main()
