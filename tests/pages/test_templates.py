import ast
import dataclasses
import importlib
import inspect
import pkgutil
from typing import ClassVar, get_type_hints

import pytest
from jinja2 import Environment, TemplateError, nodes

import proposal.pages
from proposal.pages.markdown import Html
from proposal.pages.templating import Templates
from tests.pages.site import templates


def _views() -> dict[str, type]:
    found: dict[str, type] = {}
    for module in pkgutil.iter_modules(proposal.pages.__path__, "proposal.pages."):
        for thing in vars(importlib.import_module(module.name)).values():
            if isinstance(thing, type) and dataclasses.is_dataclass(thing) and "template" in vars(thing):
                found[vars(thing)["template"]] = thing
    return found


VIEWS = _views()
NAMES = sorted(templates())


def test_every_view_model_has_its_template_and_every_template_its_view_model() -> None:
    assert sorted(VIEWS) == NAMES
    assert len(NAMES) >= 15


@pytest.mark.parametrize("name", NAMES)
def test_a_template_asks_for_nothing_but_fields_of_its_view_model_and_for_all_of_them(name: str) -> None:
    tree = Environment().parse(templates()[name])
    asked = {
        node.attr
        for node in tree.find_all(nodes.Getattr)
        if isinstance(node.node, nodes.Name) and node.node.name == "page"
    }
    assert asked == {field.name for field in dataclasses.fields(VIEWS[name])}


@pytest.mark.parametrize("name", NAMES)
def test_a_template_only_repeats_and_asks_for_presence(name: str) -> None:
    tree = Environment().parse(templates()[name])
    allowed = (
        nodes.Template,
        nodes.Output,
        nodes.TemplateData,
        nodes.For,
        nodes.If,
        nodes.Getattr,
        nodes.Name,
        nodes.Tuple,
    )
    others = {type(node).__name__ for node in tree.find_all(nodes.Node) if not isinstance(node, allowed)}
    assert others == set()
    for condition in tree.find_all(nodes.If):
        assert isinstance(condition.test, nodes.Getattr | nodes.Name)
        assert not condition.else_
        assert not condition.elif_


@pytest.mark.parametrize("name", NAMES)
def test_a_template_opens_with_its_purpose_and_its_context(name: str) -> None:
    opening = templates()[name].split("#}")[0].split("-#}")[0]
    view = VIEWS[name]
    assert opening.startswith("{#")
    assert view.__name__ in opening
    assert view.__module__.replace(".", "/") + ".py" in opening


@pytest.mark.parametrize("name", NAMES)
def test_a_view_model_is_frozen_and_holds_only_text_made_ready(name: str) -> None:
    view = VIEWS[name]
    # The check of types holds it; instances of quick classes do not look (`proposal/field_classes.py`).
    (declared,) = ast.parse(inspect.getsource(view)).body
    assert isinstance(declared, ast.ClassDef)
    assert any("frozen=True" in ast.unparse(one) for one in declared.decorator_list)
    for field, hint in get_type_hints(view).items():
        if field != "template":
            words = str(hint).replace("proposal.pages.markdown.Html", "").replace("class", "")
            assert set(words) <= set("tuple[], .|None<>''"), (field, hint)
            assert Html.__name__ in str(hint)


@dataclasses.dataclass(frozen=True)
class Note:
    template: ClassVar[str] = "note.md.jinja"
    words: str


def test_text_that_nobody_escaped_never_reaches_a_page() -> None:
    reader = Templates({"note.md.jinja": "{{ page.words }}"})
    with pytest.raises(TypeError, match="made ready for a page"):
        reader.page(Note("<script>"))
    assert reader.page(Note(Html("&lt;script&gt;"))) == "&lt;script&gt;\n"


def test_a_field_that_does_not_exist_is_an_error() -> None:
    with pytest.raises(TemplateError):
        Templates({"note.md.jinja": "{{ page.other }}"}).page(Note(Html("")))
