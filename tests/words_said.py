"""Every sentence the server may say: messages, refusals, warnings, reasons, the command line's help, meanings."""

import ast
from collections.abc import Iterator
from pathlib import Path

APP = Path(__file__).parents[1] / "app"
_NO_SENTENCE = ("SELECT ", "INSERT ", "UPDATE ", "DELETE ", "ALTER ", "CREATE ", "PRAGMA ", "default-src ")


def words_said() -> Iterator[tuple[str, str]]:
    """Where it stands, and the sentence; values filled in later stand as dots."""
    for path in sorted(APP.rglob("*.py")):
        tree = ast.parse(path.read_text())
        silent = {id(each) for node in ast.walk(tree) for each in _silent(node)}
        for node in ast.walk(tree):
            words = "" if id(node) in silent else _words(node)
            if " " in words.strip() and not words.lstrip().startswith(_NO_SENTENCE):
                yield f"{path.relative_to(APP.parent)}:{getattr(node, 'lineno', 0)}", words


def _words(node: ast.AST) -> str:
    match node:
        case ast.Constant(value=str(words)):
            return words
        case ast.JoinedStr(values=parts):
            return "".join(_words(each) if isinstance(each, ast.Constant) else "…" for each in parts)
    return ""


def _silent(node: ast.AST) -> Iterator[ast.AST]:
    """What nobody is shown: docstrings; what an exception of the language's own says; and parts of what is whole."""
    match node:
        case ast.Expr(value=ast.Constant() as docstring):
            yield docstring
        case ast.JoinedStr(values=parts):
            yield from parts
        case ast.Raise(exc=ast.Call(func=ast.Name(id=name), args=args)) if name.endswith("Error"):
            if name in ("ZeroDivisionError", "AssertionError", "RuntimeError"):
                yield from args
