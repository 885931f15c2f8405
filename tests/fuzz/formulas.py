"""Formulas: well-formed, nearly so, and soup."""

from random import Random

from fuzz.values import ATOMS, LONG, SIGNS, SOUP


def formula(random: Random) -> str:
    """Return a formula: well-formed, nearly so, or soup."""
    kind = random.random()
    if kind < 0.5:
        text = _expression(random, random.randint(0, 7))
    elif kind < 0.9:
        return "".join(random.choices(SOUP, k=random.choice((1, 2, 3, 5, 8, 20, 60))))
    else:
        return random.choice(LONG) * random.randint(1, 200)
    if random.random() < 0.3:
        at = random.randint(0, len(text))
        text = text[:at] + random.choice(SOUP) + text[at + random.choice((0, 1, 3)) :]
    return text


def _expression(random: Random, depth: int) -> str:
    if depth <= 0:
        return random.choice(ATOMS)

    def below() -> str:
        return _expression(random, depth - random.choice((1, 1, 2, 4)))

    made = (
        lambda: f"{below()}{random.choice(SIGNS)}{below()}",
        lambda: f"{below()}{random.choice(SIGNS)}{below()}",
        lambda: f"({below()})",
        lambda: f"{random.choice(('-', 'not ', '+'))}{below()}",
        lambda: f"{random.choice(('abs', 'sqrt', 'sin', 'cos', 'tan'))}({below()})",
        lambda: f"{random.choice(('min', 'max'))}({below()}, {below()})",
        lambda: f"{below()} if {below()} else {below()}",
    )
    return random.choice(made)()
