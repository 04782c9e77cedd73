"""How often each element was put on, as far as the names of mountings tell."""

import pandas as pd


def mountings_by_name(given: pd.DataFrame, rows: pd.DataFrame) -> dict[str, int]:
    """The number of mountings of each element that was run.

    `given` is the frame of the readings, `rows` those of its rows that count, with their mountings numbered.
    Where every reading of an element names its mounting, the different names count, also when a name goes on
    from round to round: who never took the element down has one mounting. Else the numbers count.
    """
    labels = given["mounting"].loc[rows.index].astype(object)
    named = labels.where(labels.notna(), None).tolist()
    numbers: dict[str, set[int]] = {}
    names: dict[str, set[str | None]] = {}
    for element, number, name in set(
        zip(rows["element"].tolist(), rows["mounting"].tolist(), named, strict=True)
    ):
        numbers.setdefault(element, set()).add(number)
        names.setdefault(element, set()).add(name)
    return {
        element: len(numbers[element] if None in names[element] else names[element]) for element in numbers
    }
