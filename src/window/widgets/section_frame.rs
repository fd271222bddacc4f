//! Where the heap stands in the cross-section: one scale for all its days.
//!
//! In: a projection, a day, a free rectangle. Out: the rectangles of the heap now and at first.
//!
//! The frame is as wide and high as the heap ever is, so that neither settling nor an addition changes the scale.
//!
//! Not here: what is painted in them (`cross_section`), the sizes in metres (`section`).
//!
//! Tested by: `tests/window/heap_section.rs`.

use eframe::egui::{Rect, pos2, vec2};

use crate::heap::Projection;

use crate::export::section::Extent;

/// Least and most width over height of the picture; a flatter heap is drawn higher than it is.
pub(super) const ASPECTS: (f64, f64) = (0.5, 6.0);
/// Share of its height as built from which a heap counts as settled.
const SETTLED: f64 = 0.97;

/// How large the heap is and was, and the frame that holds all its days.
pub(super) struct Sizes {
    /// On the day shown.
    pub(super) now: Extent,
    /// As built at first.
    pub(super) at_first: Extent,
    frame: Extent,
}

impl Sizes {
    /// Of a projection on a day; `None` without a picture of that day.
    pub(super) fn on_day(projection: &Projection, day: f64) -> Option<Self> {
        let first = projection.fields.first()?.day;
        Some(Self {
            now: Extent::on_day(projection, day)?,
            at_first: Extent::on_day(projection, first)?,
            frame: Extent::largest(projection)?,
        })
    }

    /// Whether it stands clearly lower than at first; what was added since hides that.
    pub(super) fn has_settled(&self) -> bool {
        self.now.height_m < SETTLED * self.at_first.height_m
    }

    /// How many times as high as it is the heap is drawn, if it is.
    pub(super) fn drawn_higher(&self) -> Option<f64> {
        let times = self.frame.aspect() / ASPECTS.1;
        (times >= 1.5).then_some(times)
    }

    /// The largest rectangle in which the frame can be drawn, at the bottom of what is free.
    pub(super) fn frame_in(&self, free: Rect) -> Rect {
        let aspect = self.frame.aspect().clamp(ASPECTS.0, ASPECTS.1) as f32;
        let height = free.height().min(free.width() / aspect).max(1.0);
        let corner = pos2(
            free.center().x - 0.5 * height * aspect,
            free.bottom() - height,
        );
        Rect::from_min_size(corner, vec2(height * aspect, height))
    }

    /// Where an extent stands in the frame: in the middle, on the ground.
    fn standing(&self, of: Extent, frame: Rect) -> Rect {
        let width = frame.width() * (of.width_m / self.frame.width_m.max(1e-9)) as f32;
        let height = frame.height() * (of.height_m / self.frame.height_m.max(1e-9)) as f32;
        let corner = pos2(frame.center().x - 0.5 * width, frame.bottom() - height);
        Rect::from_min_size(corner, vec2(width, height))
    }

    /// Where the heap stands now.
    pub(super) fn place_in(&self, frame: Rect) -> Rect {
        self.standing(self.now, frame)
    }

    /// Where it stood at first.
    pub(super) fn first_in(&self, frame: Rect) -> Rect {
        self.standing(self.at_first, frame)
    }
}
