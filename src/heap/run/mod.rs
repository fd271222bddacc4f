//! The run: steps through time, operations, records, balances.
//!
//! In: a mix, later additions, a heap, a resolution. Out: a [`Projection`](crate::heap::Projection).
//!
//! Order of a step: look-up -> air flow (from the old temperatures) -> rot at full oxygen (pools at
//! mid-step) -> exposed faces -> implicit heat and water -> rot at the mid-step temperature -> oxygen ->
//! what rot really did -> ammonia, rain, drainage -> judge the step -> take it or shorten it.
//! Properties that change slowly, and with them the factored pressure matrix, are refreshed twice a day.
//!
//! Chapter: `scratch` is the working memory and `parts` what a run holds; `refresh` does what changes slowly,
//! `look_up` the pore air before a step, `attempt` works a step out, `take` takes it; `clock` chooses the steps.
//!
//! Not here: what an operation does (`event`), what is recorded (`record`).
//!
//! Tested by: `tests/science/one_cell.rs`, `tests/science/single_cell.rs`, `tests/science/ledgers.rs`,
//! `tests/science/heap_cases.rs`, `tests/science/heap_convergence.rs`, `tests/science/absurd_heaps.rs`.

mod attempt;
mod clock;
mod look_up;
mod parts;
mod rain;
mod refresh;
mod scratch;
mod take;

pub use clock::{RunControl, simulate, simulate_on_grid, simulate_with};
