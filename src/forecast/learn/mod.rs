//! Learning: what was measured of a heap tells which members of its forecast to believe.
//!
//! In: [`Inputs`](super::Inputs), a [`Diary`](crate::diary::Diary). Out: [`Learnt`]: the forecast that follows the
//! readings beside the one that knew none, what they say of each [`Unknown`](super::Unknown), and where to measure next.
//!
//! # Method
//!
//! Every member is a point of sixteen standard normal deviates, so the prior is known in closed form. Bayes' rule, by
//! weighted members:
//!
//! 1. `observed` makes one value for each half day and place of what stands in the diary, and keeps out what cannot be.
//! 2. `member` simulates a member and keeps what it says of every value (`heap::Projection::value_at`) and its curves.
//!    The first wave are the members of the forecast (Beven and Binley 1992, Hydrological Processes 6:279-298).
//! 3. `errors` says how far a value may lie from a heap like it: thermometer, place of its tip, and the model itself,
//!    whose error is alike for days on end. That is why ten readings of one day weigh hardly more than one.
//! 4. `evidence` gives each member its likelihood: Gaussian in all temperatures, moistures, oxygens and heights at once;
//!    an interval for a squeeze in the hand; one in three against it for a smell that a member does not have.
//! 5. `sampler` draws two later waves where the likely members lie: from a normal distribution found by a regression of
//!    what members say on their deviates (`regress`; the update of an ensemble Kalman filter: Evensen 2003, Ocean Dynamics
//!    53:343-367; as a proposal: Papadakis et al. 2010, Tellus A 62:673-697). Until enough members count, likelihoods are
//!    taken to a power below one (tempering: Neal 2001, Statistics and Computing 11:125-139; Del Moral et al. 2006, JRSS B
//!    68:411-436; the power by the effective number of members). A kernel about each likely member (Liu and West 2001)
//!    was tried beside it: in sixteen directions it leaves a fifth of the effective members.
//! 6. All waves together are weighed by prior times likelihood over the mixture of all that was drawn from (balance
//!    heuristic: Veach and Guibas 1995; deterministic mixture: Owen and Zhou 2000, JASA 95:135-143; adaptive multiple
//!    importance sampling: Cornuet et al. 2012, Scandinavian Journal of Statistics 39:798-812). The prior is in that
//!    mixture, so no weight is ever large by accident.
//! 7. Members are drawn by their weights, systematically (Gordon et al. 1993, IEE Proceedings F 140:107-113; Kitagawa
//!    1996, JCGS 5:1-25), into a forecast of equally weighted members (`learner`, `learnt`).
//!
//! All of it is the same every time, for any number of threads. Publications from memory, not read for this.
//!
//! Not here: where readings come from (`diary`, `document`), words (`text::learnt`).
//!
//! Tested by: `tests/science/learn_weights.rs`, `tests/science/learn_twins.rs`, `tests/science/learn.rs`.

mod errors;
mod evidence;
mod first;
mod learner;
mod learnt;
mod matrix;
mod member;
mod next;
mod observed;
mod proposal;
mod regress;
mod sampler;
mod weights;

pub use errors::{Spreads, covariance};
pub use evidence::{Evidence, Soft};
pub use first::FirstWave;
pub use learner::{Learner, NotLearnt};
pub use learnt::{Gained, Learnt, Residual, Shift, Told};
pub use matrix::{Lower, Square};
pub use next::NextReading;
pub use observed::{KeptOut, Observation, Observations, Source, What, Why, squeezed};
pub use sampler::{Cloud, Sampler, Tried};
pub use weights::{effective, normalised, power_for, systematic};
