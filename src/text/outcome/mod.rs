//! Judgements in words: topic, sentence, numbers, source; cautions, beds and field tests.
//!
//! In: typed judgements, units. Out: sentences, numbers with their units, stable names for files.
//!
//! Chapter: `rules`, `living` (seeds, diseases, germs), `finish` (with `curing`, what field tests say), `product`, `fate` (water, nitrogen) and `trouble` say
//! one kind of finding each, `limits` where the simulation parts from what is published, `likely` how likely it is, `usage` what the compost is used for; `facts` holds what they share, `finding`
//! asks the right one.
//!
//! Not here: the judging (`outcome`), how lines are arranged (`export`, `window`).
//!
//! Tested by: `tests/science/outcome.rs`, `tests/document/export.rs`.

mod curing;
mod facts;
mod fate;
mod finding;
mod finish;
mod headline;
mod likely;
mod limits;
mod living;
mod metric;
mod product;
mod rules;
mod trouble;
mod usage;

pub use facts::{NamedNumber, share_of_heap, trust, trust_in_brackets, unverified};
pub use finding::{id, numbers, sentence, source, topic};
pub use finish::finished;
pub use headline::{FirstLine, first_lines};
pub use likely::{counted, in_ten, likely};
pub use limits::{HOW_FAR, LimitNote, limit};
pub use metric::{shown as in_units, shown_rise as rise_in_units};
pub use product::{composition, what_it_is};
pub use rules::{RuleRow, STANDING, missing, rule_row, rules_in_one};
pub use trouble::{LOCAL, NOTHING_NOTICED, caution, caution_source, noticed};
pub use usage::{
    amount_in_measures, bed_gets, coarse_percent, enough_for, feeder, field_test_source, left_over,
    meaning, need_source, nutrient, own_use, product_lines, ranged_nutrient, ranged_percent,
    release_source, turnings_heading, use_line, use_list, use_source,
};
