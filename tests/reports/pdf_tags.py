"""The structure tree of a tagged PDF, as a screen reader goes through it."""

import pikepdf


def nodes(node: pikepdf.Object) -> list[pikepdf.Object]:
    """All structure elements below a node, in reading order."""
    kids = node.get("/K", [])
    kids = kids if isinstance(kids, pikepdf.Array) else [kids]
    below = [kid for kid in kids if isinstance(kid, pikepdf.Dictionary) and "/S" in kid]
    return [one for kid in below for one in (kid, *nodes(kid))]


def of_kind(node: pikepdf.Object, *kinds: str) -> list[pikepdf.Object]:
    """Those of them with one of these tags."""
    return [one for one in nodes(node) if str(one.S) in kinds]
