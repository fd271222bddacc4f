//! Whether a year can be: every number tested against its bound, every name against what it names.
//!
//! In: a year. Out: nothing, or the first thing that cannot be, with a remedy.
//!
//! Not here: whether the wishes can be met (`conflict`), texts and the file (`document::year`).
//!
//! Tested by: `tests/science/year.rs`, `tests/document/year.rs`.

use std::borrow::Cow;

use thiserror::Error;

use super::{Arrival, Keeps, Wish, Year};
use crate::material::{Catalogue, Material};
use crate::mix::Ingredient;
use crate::quantity::{Amount, Measure, OutOfRange, bounds};

/// Most bays of one year.
pub const BAY_LIMIT: usize = 12;
/// Most rows of arrivals of one year.
pub const ARRIVAL_LIMIT: usize = 30;
/// Most wishes of one year.
pub const WISH_LIMIT: usize = 60;

/// Why a year cannot be planned as it is written.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum YearError {
    /// A number outside its bound.
    #[error("{place}: {problem}; correct that number")]
    Number {
        /// Where it stands.
        place: String,
        /// Which bound is broken.
        problem: OutOfRange,
    },
    /// A material that is in no catalogue.
    #[error(
        "arrival {row} is \"{id}\", which is not in the catalogue{}; replace it or add it as an own material",
        .nearest.as_ref().map(|id| format!(" (nearest: \"{id}\")")).unwrap_or_default()
    )]
    UnknownMaterial {
        /// Row, from 1.
        row: usize,
        /// The id that was looked for.
        id: String,
        /// A known id that begins alike.
        nearest: Option<String>,
    },
    /// The same name or material twice.
    #[error("{what} \"{name}\" stands twice; join the two or rename one")]
    Twice {
        /// Of what.
        what: &'static str,
        /// Which.
        name: String,
    },
    /// A wish that names what is not there.
    #[error(
        "wish {wish} names the {what} \"{name}\", which this year does not have; use one of its own"
    )]
    NoSuch {
        /// Which wish, from 1.
        wish: usize,
        /// What it names.
        what: &'static str,
        /// Its name.
        name: String,
    },
    /// A bay that takes what never arrives.
    #[error(
        "bay \"{bay}\" takes \"{name}\", which does not arrive; add it to the arrivals or leave it out"
    )]
    NoSuchForBay {
        /// Which bay.
        bay: String,
        /// The material it names.
        name: String,
    },
    /// More entries than a list may have.
    #[error(
        "there are {found} {what}, and at most {limit} can be planned with; join or remove some"
    )]
    TooMany {
        /// Of what.
        what: &'static str,
        /// Most allowed.
        limit: usize,
        /// How many there are.
        found: usize,
    },
}

impl Year {
    /// Checks everything that can be checked without a catalogue.
    ///
    /// # Errors
    /// [`YearError`] for the first number, name or list that cannot be.
    pub fn check_alone(&self) -> Result<(), YearError> {
        number("the first month", f64::from(self.first_month), Kind::Month)?;
        number("the store", self.storage_m3, Kind::Store)?;
        count("arrivals", self.arrivals.len(), ARRIVAL_LIMIT)?;
        count("bays", self.bays.len(), BAY_LIMIT)?;
        count("wishes", self.wishes.len(), WISH_LIMIT)?;
        self.check_arrivals()?;
        self.check_bays()?;
        for (wish, it) in (1..).zip(&self.wishes) {
            self.check_wish(wish, it)?;
        }
        Ok(())
    }

    /// Checks everything, materials against a catalogue too.
    ///
    /// # Errors
    /// As [`Year::check_alone`], and [`YearError::UnknownMaterial`].
    pub fn check(&self, catalogue: &Catalogue) -> Result<(), YearError> {
        self.check_alone()?;
        for (row, arrival) in (1..).zip(&self.arrivals) {
            known(row, arrival, catalogue)?;
        }
        Ok(())
    }

    fn check_arrivals(&self) -> Result<(), YearError> {
        for (row, it) in (1..).zip(&self.arrivals) {
            let place = format!("arrival {row} ({})", it.material);
            for (month, value) in (1..).zip(it.monthly) {
                number(&format!("{place}, month {month}"), value, Kind::Amount)?;
            }
            if let Measure::Own { litres, .. } = it.measure {
                number(&place, litres, Kind::OwnMeasure)?;
            }
            match it.keeps {
                Some(Keeps::Days(days)) => number(&place, days, Kind::KeepsDays)?,
                Some(Keeps::Months(months)) => {
                    number(&place, f64::from(months), Kind::KeepsMonths)?;
                }
                None => {}
            }
            it.condition
                .check()
                .map_err(|problem| YearError::Number { place, problem })?;
            let twice = self.arrivals[..row - 1]
                .iter()
                .any(|other| other.material == it.material);
            if twice {
                return Err(YearError::Twice {
                    what: "arrival",
                    name: it.material.clone(),
                });
            }
        }
        Ok(())
    }

    fn check_bays(&self) -> Result<(), YearError> {
        for (row, it) in (1..).zip(&self.bays) {
            let place = format!("bay {row} ({})", it.name);
            number(&place, it.room_m3, Kind::Room)?;
            for weeks in [it.fills_weeks, it.works_weeks, it.cures_weeks] {
                number(&place, weeks, Kind::Weeks)?;
            }
            let strange = it
                .takes
                .iter()
                .find(|id| !self.arrivals.iter().any(|row| row.material == **id));
            if let Some(id) = strange {
                return Err(YearError::NoSuchForBay {
                    bay: it.name.clone(),
                    name: id.clone(),
                });
            }
            if let Some(month) = it.free_from {
                number(&place, f64::from(month), Kind::Month)?;
            }
            if self.bays[..row - 1]
                .iter()
                .any(|other| other.name == it.name)
            {
                return Err(YearError::Twice {
                    what: "bay",
                    name: it.name.clone(),
                });
            }
        }
        Ok(())
    }

    fn check_wish(&self, wish: usize, it: &Wish) -> Result<(), YearError> {
        let place = format!("wish {wish}");
        if let Some(name) = it.bay()
            && !self.bays.iter().any(|bay| bay.name == *name)
        {
            return Err(YearError::NoSuch {
                wish,
                what: "bay",
                name: name.clone(),
            });
        }
        match it {
            Wish::Build { month, .. } | Wish::Empty { month, .. } | Wish::Put { month, .. } => {
                number(&place, f64::from(*month), Kind::Month)?;
            }
            Wish::NoneSpoils { .. } => {}
        }
        if let Wish::Put { amount, .. } = it {
            number(&place, *amount, Kind::Amount)?;
        }
        match it {
            Wish::Put { material, .. } | Wish::NoneSpoils { material }
                if !self.arrivals.iter().any(|row| row.material == *material) =>
            {
                Err(YearError::NoSuch {
                    wish,
                    what: "material",
                    name: material.clone(),
                })
            }
            _ => Ok(()),
        }
    }
}

/// Which bound a number has.
#[derive(Debug, Clone, Copy)]
enum Kind {
    Amount,
    OwnMeasure,
    Month,
    Store,
    Room,
    Weeks,
    KeepsDays,
    KeepsMonths,
}

fn number(place: &str, value: f64, kind: Kind) -> Result<(), YearError> {
    let bound = match kind {
        Kind::Amount => &bounds::AMOUNT,
        Kind::OwnMeasure => &bounds::OWN_MEASURE,
        Kind::Month => &bounds::MONTH_OF_YEAR,
        Kind::Store => &bounds::STORE_ROOM,
        Kind::Room => &bounds::HEAP_VOLUME,
        Kind::Weeks => &bounds::WEEKS_IN_BAY,
        Kind::KeepsDays => &bounds::KEEPS_DAYS,
        Kind::KeepsMonths => &bounds::KEEPS_MONTHS,
    };
    bound
        .check(value)
        .map(|_| ())
        .map_err(|problem| YearError::Number {
            place: place.to_owned(),
            problem,
        })
}

/// The material of an arrival, in the state it arrives in.
pub(super) fn known<'a>(
    row: usize,
    arrival: &Arrival,
    catalogue: &'a Catalogue,
) -> Result<Cow<'a, Material>, YearError> {
    let amount = Amount::new(1.0, arrival.measure.clone());
    let ingredient = Ingredient {
        condition: arrival.condition,
        ..Ingredient::new(arrival.material.as_str(), amount)
    };
    ingredient.material_in(catalogue).ok_or_else(|| {
        let id = arrival.material.clone();
        YearError::UnknownMaterial {
            nearest: catalogue.nearest_id(&id).map(str::to_owned),
            row,
            id,
        }
    })
}

fn count(what: &'static str, found: usize, limit: usize) -> Result<(), YearError> {
    if found > limit {
        return Err(YearError::TooMany { what, limit, found });
    }
    Ok(())
}
