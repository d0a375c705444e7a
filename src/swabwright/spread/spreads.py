"""How uncertain the figures of a history are, and how much the copies of a plant differ."""

from dataclasses import dataclass, replace

from swabwright.plant.figures import Figures


@dataclass(frozen=True)
class Spreads:
    """Natural-log standard deviations and shares of the draws of a history and of the structural copies."""

    rate_ln_sd: float
    fraction_ln_sd: float
    event_size_ln_sd: float
    event_size_mean_one: bool
    shedding_ln_sd: float
    growth_ln_sd: float
    cleaning_ln_sd: float
    die_off_ln_sd: float
    founded_before_share: float
    start_level_low: float
    start_level_high: float
    failure_share: float
    failed_part: float
    rinse_part: float
    dry_part: float
    copies: int
    copy_ln_sd: float
    copy_mean_one: bool
    dropped_share: float
    added_share: float
    copy_cleaning_ln_sd: float
    copy_shedding_ln_sd: float
    copy_growth_ln_sd: float


def spreads_of(figures: Figures) -> Spreads:
    """The spreads as they stand in the figures."""
    history = {name: figure.value for name, figure in figures.under("history").items()}
    structure = {name: figure.value for name, figure in figures.under("structure").items()}
    cleaning = {name: figure.value for name, figure in figures.under("cleaning").items()}
    return Spreads(
        rate_ln_sd=history["rate_ln_sd"],
        fraction_ln_sd=history["fraction_ln_sd"],
        event_size_ln_sd=history["event_size_ln_sd"],
        event_size_mean_one=history["event_size_mean_one"] > 0,
        shedding_ln_sd=history["shedding_ln_sd"],
        growth_ln_sd=history["growth_ln_sd"],
        cleaning_ln_sd=history["cleaning_ln_sd"],
        die_off_ln_sd=history["die_off_ln_sd"],
        founded_before_share=history["founded_before_share"],
        start_level_low=history["start_level_low"],
        start_level_high=history["start_level_high"],
        failure_share=cleaning["failure_share"],
        failed_part=cleaning["failed_part"],
        rinse_part=cleaning["rinse_part"],
        dry_part=cleaning["dry_part"],
        copies=round(structure["copies"]),
        copy_ln_sd=structure["ln_sd"],
        copy_mean_one=figures["structure.ln_sd"].central == "mean",
        dropped_share=structure["dropped_share"],
        added_share=structure["added_share"],
        copy_cleaning_ln_sd=structure["cleaning_ln_sd"],
        copy_shedding_ln_sd=structure["shedding_ln_sd"],
        copy_growth_ln_sd=structure["growth_ln_sd"],
    )


def steady(spreads: Spreads) -> Spreads:
    """The same plant without any uncertainty: every multiplier 1, no failed cleaning, no changed edge."""
    return replace(
        spreads,
        rate_ln_sd=0.0,
        fraction_ln_sd=0.0,
        event_size_ln_sd=0.0,
        shedding_ln_sd=0.0,
        growth_ln_sd=0.0,
        cleaning_ln_sd=0.0,
        die_off_ln_sd=0.0,
        failure_share=0.0,
        copy_ln_sd=0.0,
        dropped_share=0.0,
        added_share=0.0,
        copy_cleaning_ln_sd=0.0,
        copy_shedding_ln_sd=0.0,
        copy_growth_ln_sd=0.0,
    )
