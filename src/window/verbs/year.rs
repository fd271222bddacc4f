//! What the year's page asks for, carried out; and what becomes of an edit of the year.
//!
//! In: actions, the year as edited. Out: a changed year, each change one step of its history.
//!
//! Not here: files (`year_files`), what is written of a year (`year_out`), its plan (`year_plan`), the list of actions
//! (`action::year`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use std::sync::Arc;

use eframe::egui;

use crate::document::History;
use crate::document::year::YearFile;
use crate::mix::Ingredient;
use crate::text::error::change_rejected;
use crate::text::year_page as words;
use crate::year::{Arrival, Bay, MONTHS, Wish, Year};

use crate::window::action::YearAction;
use crate::window::jobs::dialog::PathUse;
use crate::window::piles::choices::{Destination, NextYear, SeasonsPage, View};
use crate::window::piles::notices::Notice;
use crate::window::piles::year_desk::OpenYear;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Carries out what the year's page asks for.
    pub(in crate::window) fn perform_year(&mut self, action: YearAction, ctx: &egui::Context) {
        match action {
            YearAction::Show(page) => {
                self.state.seasons = page;
                self.state.view = View::Seasons;
                if page == SeasonsPage::Year {
                    self.open_last_year();
                }
            }
            YearAction::Tab(tab) => self.year.tab = tab,
            YearAction::New => self.guarded_year(NextYear::New, ctx),
            YearAction::Example => self.guarded_year(NextYear::Example, ctx),
            YearAction::Open => self.guarded_year(NextYear::Open, ctx),
            YearAction::OpenByPath => self.guarded_year(NextYear::OpenByPath, ctx),
            YearAction::Page => self.ask_for_path(PathUse::YearPage, ctx),
            YearAction::Calendar => self.ask_for_path(PathUse::YearCalendar, ctx),
            YearAction::PickArrival => self.pick_for(Destination::Year),
            YearAction::AddArrival(id) => self.add_arrival(&id),
            YearAction::RemoveArrival(row) => {
                self.change_year(words::REMOVED_ARRIVAL, |year| remove_arrival(year, row));
            }
            YearAction::AddBay => self.change_year(words::ADDED_BAY, |year| {
                let names = 1..=year.bays.len() + 1;
                let mut free = names.map(words::bay_name);
                let taken = |name: &String| year.bays.iter().any(|bay| bay.name == *name);
                let name = free.find(|name| !taken(name)).unwrap_or_default();
                year.bays.push(Bay::usual(name));
            }),
            YearAction::RemoveBay(place) => {
                self.change_year(words::REMOVED_BAY, |year| remove_bay(year, place));
            }
            YearAction::RenameBay(place, name) => {
                self.change_year(words::RENAMED_BAY, |year| rename_bay(year, place, &name));
            }
            YearAction::Decide(wish) => {
                self.change_year(words::DECISION, |year| decide(year, wish));
            }
            YearAction::DropWish(place) => {
                self.change_year(words::DROPPED_DECISION, |year| {
                    if place < year.wishes.len() {
                        year.wishes.remove(place);
                    }
                });
            }
            YearAction::OpenHeap(place) => self.open_heap(place, ctx),
        }
    }

    /// Changes the year in one step, or takes the change back and says why it cannot be.
    fn change_year(&mut self, label: &str, change: impl FnOnce(&mut Year)) {
        let Some(open) = &mut self.year.open else {
            return;
        };
        change(&mut open.file.year);
        if let Some(notice) = checked(open) {
            self.tell(notice);
        } else {
            open.history.record(&open.file, label);
        }
    }

    /// A material that arrives, in the measure in which a garden has it; none of it yet.
    fn add_arrival(&mut self, id: &str) {
        self.state.picker = None;
        let Some(open) = &mut self.year.open else {
            return;
        };
        if open.catalogue.find(id).is_none() {
            // One of the person's own: it comes along with the year.
            let known = self.stock.all.find(id);
            let Some(own) = known.or_else(|| self.shelf.kept_materials.find(id)) else {
                return;
            };
            open.file.own_materials.push(own.clone());
            match self.stock.built_in.with_own(&open.file.own_materials) {
                Ok(catalogue) => open.catalogue = Arc::new(catalogue),
                Err(_) => return,
            }
        }
        let Some(material) = open.catalogue.find(id) else {
            return;
        };
        let measure = Ingredient::first_of(material).amount.measure;
        let material = id.to_owned();
        self.change_year(words::ADDED_ARRIVAL, |year| {
            year.arrivals.push(Arrival {
                material,
                condition: Default::default(),
                measure,
                monthly: [0.0; MONTHS],
                keeps: None,
            });
        });
    }

    /// Checks and records what was edited of the year in this frame.
    pub(in crate::window) fn settle_year(&mut self, settled: bool, ctx: &egui::Context) {
        let Some(open) = &mut self.year.open else {
            return;
        };
        let mut rejected = None;
        if open.file != open.seen {
            words::change(&open.seen, &open.file).clone_into(&mut open.label);
            rejected = checked(open);
            ctx.request_repaint();
        }
        open.history
            .note(&open.file, &open.label, self.now_s, settled);
        if let Some(notice) = rejected {
            self.tell(notice);
        }
    }

    /// One step of the year's history, in either direction.
    pub(in crate::window) fn step_year(
        &mut self,
        way: impl FnOnce(&mut History<YearFile>, &YearFile) -> Option<(YearFile, String)>,
    ) {
        let Some(open) = &mut self.year.open else {
            return;
        };
        if let Some((file, _)) = way(&mut open.history, &open.file) {
            open.seen = file.clone();
            open.file = file;
        }
    }
}

/// Takes the year as edited for seen, or goes back to the year as it was and says why.
fn checked(open: &mut OpenYear) -> Option<Notice> {
    match open.file.flaw() {
        Some(problem) => {
            open.file = open.seen.clone();
            Some(Notice::problem(change_rejected(&problem), ""))
        }
        None => {
            open.seen = open.file.clone();
            None
        }
    }
}

fn remove_arrival(year: &mut Year, row: usize) {
    if row >= year.arrivals.len() {
        return;
    }
    let gone = year.arrivals.remove(row).material;
    for bay in &mut year.bays {
        bay.takes.retain(|id| *id != gone);
    }
    year.wishes.retain(|wish| match wish {
        Wish::Put { material, .. } | Wish::NoneSpoils { material } => *material != gone,
        Wish::Build { .. } | Wish::Empty { .. } => true,
    });
}

fn remove_bay(year: &mut Year, place: usize) {
    if place >= year.bays.len() {
        return;
    }
    let gone = year.bays.remove(place).name;
    year.wishes.retain(|wish| wish.bay() != Some(&gone));
}

fn rename_bay(year: &mut Year, place: usize, name: &str) {
    let Some(bay) = year.bays.get_mut(place) else {
        return;
    };
    let before = std::mem::replace(&mut bay.name, name.trim().to_owned());
    for wish in &mut year.wishes {
        if let Wish::Build { bay, .. } | Wish::Empty { bay, .. } | Wish::Put { bay, .. } = wish
            && *bay == before
        {
            name.trim().clone_into(bay);
        }
    }
}

/// A decision in the place of those on the same thing: a bay is built in or kept empty, an amount is one amount.
fn decide(year: &mut Year, wish: Wish) {
    year.wishes.retain(|old| !replaces(&wish, old));
    year.wishes.push(wish);
}

fn replaces(new: &Wish, old: &Wish) -> bool {
    let same_month = |bay: &String, month: u8| match old {
        Wish::Build { bay: of, month: at }
        | Wish::Empty { bay: of, month: at }
        | Wish::Put {
            bay: of, month: at, ..
        } => of == bay && *at == month,
        Wish::NoneSpoils { .. } => false,
    };
    match new {
        Wish::Build { bay, month } => same_month(bay, *month) && !matches!(old, Wish::Put { .. }),
        Wish::Empty { bay, month } => same_month(bay, *month),
        Wish::Put {
            bay,
            month,
            material,
            ..
        } => match old {
            Wish::Put { material: of, .. } => of == material && same_month(bay, *month),
            Wish::Empty { .. } => same_month(bay, *month),
            Wish::Build { .. } | Wish::NoneSpoils { .. } => false,
        },
        Wish::NoneSpoils { .. } => old == new,
    }
}
