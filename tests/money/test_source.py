"""No module but that of rounding rounds a decimal number, and none spells the decimals of money.

The program is read as syntax trees. What a name stands for is told by its words: `unit_cost` is money.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2] / "proposal"
MODULES = sorted(path.relative_to(ROOT).as_posix() for path in ROOT.rglob("*.py"))
ROUNDING = "quantities/rounding.py"
LOCALES = "quantities/unicode_forms.py"
# Module → why it rounds by itself, or has such a name for something else.
EXEMPT = {
    ROUNDING: "rounds for all others",
    "standards/substitution.py": "numbers of equations to four digits; standards import nothing of ours",
    "design/pathways/pathway_graph.py": "a cost of ways, in metres that count for more",
}
ROUNDS = {"quantize", "to_integral_value", "to_integral_exact", "to_integral", "getcontext", "localcontext"}
MONEY = {"money", "cost", "costs", "price", "prices", "amount", "tax", "taxes", "reserve", "retained"}
MONEY |= {"selling", "paid", "balance", "supply", "allowance", "surcharge"}
WRITES_NUMBERS = {"number", "short_number", "rounded", "significant", "round", "format", "format_decimal"}
A_STEP = re.compile(r"0?\.0*1")
A_NUMBER_OF_PLACES = re.compile(r"\.\d+[a-zA-Z%]?$")


def names_in(tree: ast.AST) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Name):
            yield node.id
        elif isinstance(node, ast.Attribute):
            yield node.attr


def is_money(tree: ast.AST) -> bool:
    """Say whether an expression is money; money by money is a share."""
    if isinstance(tree, ast.BinOp) and isinstance(tree.op, ast.Div):
        return is_money(tree.left) and not is_money(tree.right)
    return any(MONEY & set(name.split("_")) for name in names_in(tree))


def called(node: ast.Call) -> str:
    function = node.func
    if isinstance(function, ast.Attribute):
        return function.attr
    return function.id if isinstance(function, ast.Name) else ""


def faults(source: str) -> Iterator[str]:
    """Yield line and fault of everything in a module that rounds a decimal, or says how many money has."""
    for node in ast.walk(ast.parse(source)):
        for fault in _faults_of(node):
            yield f"{getattr(node, 'lineno', 0)}: {fault}"


def _faults_of(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Attribute):
        yield from _faults_of_name(node.attr)
    elif isinstance(node, ast.Name):
        yield from _faults_of_name(node.id)
    elif isinstance(node, ast.alias):
        yield from _faults_of_name(node.name)
    elif isinstance(node, ast.Call):
        yield from _faults_of_call(node)
    elif isinstance(node, ast.FormattedValue) and node.format_spec is not None:
        spec = ast.unparse(node.format_spec)
        if A_NUMBER_OF_PLACES.search(spec.strip("f'\"")) and is_money(node.value):
            yield f"{spec} spells the decimals of money"
    elif isinstance(node, ast.Constant) and isinstance(node.value, str):
        if re.search(r"ROUND\([^ ]*,\d", node.value):
            yield "a formula spells the decimals it rounds to"
    elif isinstance(node, ast.Dict):
        for key, value in zip(node.keys, node.values, strict=True):
            named = isinstance(key, ast.Constant) and isinstance(key.value, str) and "money" in key.value
            if named and isinstance(value, ast.Constant) and re.search(r"[0#]|\d", str(value.value)):
                yield f"{ast.unparse(value)} spells the decimals of money"


def _faults_of_name(name: str) -> Iterator[str]:
    if name in ROUNDS or (name.startswith("ROUND_") and name != "ROUND_KINDS"):
        yield f"{name} rounds a decimal"
    if name in ("format_currency", "currency_formats"):
        yield f"{name} writes money"


def _faults_of_call(node: ast.Call) -> Iterator[str]:
    name, arguments = called(node), [*node.args, *(one.value for one in node.keywords)]
    shown, first = ast.unparse(node), node.args[0] if node.args else None
    power = name == "Decimal" and isinstance(first, ast.Constant) and A_STEP.fullmatch(str(first.value))
    if power or shown.startswith("Decimal(1).scaleb("):
        yield f"{shown} is a step"
    if name in WRITES_NUMBERS and arguments and is_money(arguments[0]):
        others = arguments[1:] or [ast.Constant(0)]
        if any(isinstance(one, ast.Constant) for one in others):
            yield f"{shown} says how many decimals money has"


def test_no_module_rounds_decimals_or_spells_the_decimals_of_money() -> None:
    found = {
        module: [
            one
            for one in faults((ROOT / module).read_text("utf-8"))
            if module != LOCALES or not one.endswith("currency_formats writes money")
        ]
        for module in MODULES
        if module not in EXEMPT
    }
    assert {module: wrong for module, wrong in found.items() if wrong} == {}


def test_modules_that_are_exempt_are_there_and_need_it() -> None:
    for module in (*EXEMPT, LOCALES):
        assert list(faults((ROOT / module).read_text("utf-8"))), module


@pytest.mark.parametrize(
    "bad",
    [
        "x = cost.quantize(step)",
        "x = hours.to_integral_value(rounding='ROUND_CEILING')",
        "from decimal import ROUND_HALF_UP",
        "import decimal; decimal.ROUND_HALF_EVEN",
        "CENT = Decimal('0.01')",
        "STEP = Decimal(1).scaleb(-2)",
        "x = round(line.unit_cost, 2)",
        "x = round(price)",
        "x = round(price / pieces, 2)",
        "x = formatting.number(row.price, locale, 2)",
        "x = rounded(tax, Decimal('0.01'))",
        "x = f'{price:.2f}'",
        "x = f'{row.unit_cost:,.3f}'",
        "x = format_currency(a, 'EUR')",
        "x = 'ROUND({quantity}*{unit_cost},2)'",
        "FORMATS = {'money': '#,##0.00'}",
    ],
)
def test_what_is_not_allowed_is_seen(bad: str) -> None:
    assert list(faults(bad))


@pytest.mark.parametrize(
    "good",
    [
        "x = rounded(quantity * unit_cost, step)",
        "x = formatting.rounded(margin / price, 4)",
        "x = round(length_m, 6)",
        "x = f'{length_m:.2f} m'",
        "x = f'{formatting.money(price, currency, locale)}'",
        "x = f'{price:f}'",
        "x = f'ROUND({formula},{places})'",
        "FORMATS = {'length': '#,##0.00'}",
    ],
)
def test_what_is_allowed_is_let_through(good: str) -> None:
    assert not list(faults(good))
