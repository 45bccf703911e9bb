"""Nothing a person reads claims that a surface is fit for food."""

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
CLAIM = re.compile(r"food[- ]?safe|safe\s+for\s+food|lebensmittel(?:echt|sicher|tauglich)", re.IGNORECASE)
DENIED = re.compile(
    r"never|nothing here|no answer here|only a laborator|nie\b|nichts hier|keine antwort", re.IGNORECASE
)
READ = [
    *(ROOT / "swatch").rglob("*.py"),
    *(ROOT / "resources" / "help").rglob("*.md"),
    *(ROOT / "resources" / "languages").rglob("*.po"),
    *(ROOT / "demo_tiles").glob("*.md"),
    ROOT / "README.md",
]


def claims(text):
    """Each place that speaks of food and safety without denying it; notes to whoever translates are no claim."""
    plain = re.sub(r'"\s*\n\s*"', "", re.sub(r"(?m)^# .*$", "", text))
    for found in CLAIM.finditer(plain):
        sentence = plain[max(0, found.start() - 120) : found.end() + 60]
        if not DENIED.search(sentence):
            yield sentence


def test_no_text_claims_that_a_surface_is_fit_for_food():
    assert len(READ) > 100
    found = {str(path.relative_to(ROOT)): list(claims(path.read_text(encoding="utf-8"))) for path in READ}
    assert not {path: said for path, said in found.items() if said}


def test_a_claim_would_be_found():
    assert list(claims("This glaze is food safe at cone 6."))
    assert list(claims("Diese Glasur ist lebensmittelecht."))
    assert not list(claims("It never says that a surface is safe for food."))
