//! Painted and edited things that any view may use; each is a file of its own.
//!
//! In: values and the look. Out: what was edited or asked for.
//!
//! Not here: views, and whatever knows a whole page.
//!
//! Tested by: `tests/window/`.

pub mod amount_control;
pub(in crate::window) mod buttons;
pub mod card;
pub(in crate::window) mod caution_list;
pub mod cross_section;
pub mod day_line;
pub mod gauge;
pub mod heap_kind;
pub mod heap_row;
pub mod heat_plot;
pub mod keep_out;
pub mod named;
pub(in crate::window) mod next_days_list;
pub mod operations;
pub mod plot_ground;
pub mod quantity_field;
pub mod range_bar;
pub mod reading_plot;
pub mod readings;
pub(in crate::window) mod seasons_switch;
mod section_frame;
pub mod shape_picker;
pub(in crate::window) mod sheet;
pub(in crate::window) mod trouble_plot;
