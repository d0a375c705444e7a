"""What a detected blank does to all the others, in words."""


def blank_words(number: str, where: str) -> str:
    """What a detected blank does to all the others."""
    return (
        f"Blank {number} is detected: handling, gloves or air may have put the organism on samples of {where}. "
        "Every detection of it weighs less, and every 'not detected' as much as before; compare isolates, and decide "
        "with the laboratory what stands."
    )
