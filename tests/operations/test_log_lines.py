"""The log: one JSON object a line, whatever stands in it."""

import json
import logging


def test_a_record_is_one_line_with_what_stands_beside_it(log):
    beside = {"problem_id": "8f2c", "path": "/v1/verdicts", "frames": ("a.py:1 in f",), "body": "secret"}
    logging.getLogger("aerial_assay").error("a fault of our own", extra=beside)
    line = json.loads(log.getvalue())
    assert line.pop("at").endswith("+00:00")
    assert line == {
        "level": "error",
        "from": "aerial_assay",
        "message": "a fault of our own",
        "problem_id": "8f2c",
        "path": "/v1/verdicts",
        "frames": ["a.py:1 in f"],
    }


def test_no_text_can_pretend_to_be_another_line(log):
    logging.getLogger("x").warning('a\n{"level": "error"}\r\u2028\x1b[2J', extra={"path": "/\n{}"})
    assert len(log.getvalue().splitlines()) == 1
    assert log.getvalue().isascii()
    assert "\x1b" not in log.getvalue()


def test_traces_and_small_talk_stay_out(log):
    logging.getLogger("x").info("small talk")
    logging.getLogger("waitress.queue").warning("Task queue depth is 1")
    try:
        raise ValueError("secret reading")
    except ValueError:
        logging.getLogger("x").exception("it failed")
    (line,) = log.getvalue().splitlines()
    assert "secret" not in line
