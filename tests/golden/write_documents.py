"""Makes the kept documents anew: python -m tests.golden.write_documents. Then read the difference."""

from service.jobs.verdicts import verdict_document
from service.settings import Limits
from tests.golden.cases import CASES, MADE_ON, processor_digest, text_of

if __name__ == "__main__":
    for case in CASES:
        document = verdict_document(case.batch, Limits(), None)
        case.document.write_text(text_of(document), encoding="utf-8")
    MADE_ON.write_text(processor_digest() + "\n", encoding="utf-8")
