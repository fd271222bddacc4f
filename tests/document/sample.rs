//! Invented projects for the checks of this binary, and folders that vanish afterwards.

use std::sync::LazyLock;

use heapwright::diary::{Diary, Log, Reading, Smell, Spot, Squeeze, Wetness};
use heapwright::document::{NEWEST_FORMAT, Project, Season};
use heapwright::garden::{Aim, Bed, Need, TestResult, Use};
use heapwright::heap::{
    Base, Board, Climate, Cover, Event, Heap, Lid, Operation, Placing, Plan, Shape, Turning,
};
use heapwright::material::{
    Catalogue, Condition, Confidence, Family, Material, Pools, Side, Sourced, Spread, Structure,
    Traits,
};
use heapwright::mix::{Ingredient, Mix};
use heapwright::quantity::{Amount, Measure, OwnMeasure};

/// The built-in catalogue.
pub fn catalogue() -> &'static Catalogue {
    static CATALOGUE: LazyLock<Catalogue> =
        LazyLock::new(|| Catalogue::built_in().expect("the built-in catalogue"));
    &CATALOGUE
}

/// A folder that is removed at the end of a test.
pub fn folder() -> tempfile::TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

fn sourced(low: f64, typical: f64, high: f64) -> Sourced {
    Sourced {
        low,
        typical,
        high,
        sources: vec!["OWN".to_owned()],
        confidence: Confidence::Recalled,
        spread: Spread::Given,
    }
}

/// An invented material: fairly dry, this much carbon and nitrogen in its dry matter.
pub fn material(id: &str, moisture: f64, carbon: f64, nitrogen: f64) -> Material {
    let exact = |value: f64| sourced(value, value, value);
    Material {
        id: id.to_owned(),
        name: format!("Invented {id}"),
        family: Family::GardenBrown,
        custom: Some(Side::Brown),
        also_called: vec!["prickly stuff".to_owned()],
        moisture: exact(moisture),
        nitrogen: exact(nitrogen),
        carbon: exact(carbon),
        carbon_to_nitrogen: (nitrogen > 0.0).then(|| exact(carbon / nitrogen)),
        ash: exact(0.08),
        lignin: exact(0.1),
        bulk_density: sourced(150.0, 200.0, 260.0),
        phosphate: exact(0.002),
        potash: exact(0.01),
        ph: sourced(6.0, 6.5, 7.0),
        pools: Pools {
            fast: 0.25,
            medium: 0.3,
            slow: 0.25,
            inert: 0.2,
            sources: vec!["OWN".to_owned()],
            confidence: Confidence::Recalled,
        },
        structure: Structure::Springy,
        settles_share: 0.15,
        size_factor: 1.0,
        traits: Traits::default(),
        texture: "springy".to_owned(),
        note: "invented".to_owned(),
    }
}

/// A row of a mix.
pub fn ingredient(material: &str, value: f64, measure: Measure) -> Ingredient {
    Ingredient {
        material: material.to_owned(),
        amount: Amount::new(value, measure),
        locked: false,
        stock: None,
        condition: Condition::default(),
    }
}

/// Weather of an invented cool temperate place.
pub fn climate() -> Climate {
    Climate {
        name: "Withybed, cool temperate (invented)".to_owned(),
        monthly_mean_c: [
            4.0, 4.4, 6.4, 9.0, 12.4, 15.4, 17.4, 17.2, 14.6, 11.0, 7.0, 4.8,
        ],
        daily_swing_k: 4.0,
        monthly_rain_mm: [
            75.0, 55.0, 52.0, 48.0, 50.0, 52.0, 50.0, 60.0, 62.0, 80.0, 82.0, 80.0,
        ],
        relative_humidity: 0.8,
        wind_m_per_s: 1.5,
        latitude_deg: 52.0,
    }
}

/// A plan with every kind of operation.
fn rich_plan() -> Plan {
    let event = |day, operation| Event {
        repeat: None,
        day,
        operation,
    };
    Plan {
        events: vec![
            event(
                7.5,
                Operation::Turn {
                    turning: Turning::Remix,
                    wet_to: Some(0.55),
                },
            ),
            event(
                21.0,
                Operation::Turn {
                    turning: Turning::InsideOut,
                    wet_to: None,
                },
            ),
            event(14.0, Operation::Water { wet_to: 0.6 }),
            event(
                28.0,
                Operation::Add {
                    mix: Mix {
                        ingredients: vec![ingredient("grass_fresh", 2.0, Measure::Bucket)],
                        added_water_l: 3.0,
                    },
                    placing: Placing::OnTop,
                },
            ),
            event(30.5, Operation::Pour { litres: 22.5 }),
            event(35.0, Operation::Cover(Cover::Sheet)),
            event(36.0, Operation::Cover(Cover::Compost { thickness_m: 0.05 })),
            event(37.0, Operation::Cover(Cover::Bare)),
        ],
    }
}

/// A diary with a whole reading, a bare one and a probe of a logger.
fn rich_diary() -> Diary {
    let built = jiff::civil::date(2025, 1, 15).at(12, 0, 0, 0);
    let later = built
        .checked_add(jiff::Span::new().days(3).hours(5))
        .unwrap();
    Diary {
        built: Some(built),
        readings: vec![
            Reading {
                wetness: Some(Wetness::Squeezed(Squeeze::Drips)),
                oxygen: Some(0.125),
                height_m: Some(0.85),
                smell: Some(Smell::Ammonia),
                note: "Steam.\nInvented.".to_owned(),
                photo: "day 3.jpg".to_owned(),
                ..Reading::temperature(
                    later,
                    Spot {
                        out: 0.25,
                        up: 0.75,
                    },
                    0.1 + 0.2,
                )
            },
            Reading::blank(built, Spot::CENTRE),
        ]
        .into(),
        logs: vec![Log {
            name: "long probe (invented)".to_owned(),
            spot: Spot::CENTRE,
            temperatures_c: vec![(0.5, 14.25), (1.0, 0.1 + 0.2)].into(),
        }],
        done: Vec::new(),
    }
}

/// A project that uses every kind of entry a file can have.
pub fn rich_project() -> Project {
    let own_measure = Measure::Own {
        name: "blue tub".to_owned(),
        litres: 42.0,
    };
    let mut locked = ingredient("own_reeds", 3.5, own_measure);
    locked.locked = true;
    let mut wilted = ingredient("grass_fresh", 0.1 + 0.2, Measure::CubicYard);
    wilted.condition = Condition {
        wilted_days: 1.5,
        packed: -0.25,
        chopped: 0.0,
    };
    Project {
        format: NEWEST_FORMAT,
        diary: rich_diary(),
        title: "Reeds & \"tea\" leaves, 2nd try: äöü 堆肥".to_owned(),
        season: Season::Winter,
        place: "Withybed School Garden, by the kitchen door".to_owned(),
        notes: "Invented.\nSecond line,\twith a tab.\nBackslash \\ and quote \".".to_owned(),
        mix: Mix {
            ingredients: vec![
                locked,
                ingredient("own_tea", 2.25, Measure::Kilogram),
                Ingredient {
                    stock: Some(6.5),
                    ..ingredient("leaves_mixed", 4.0, Measure::Barrow)
                },
                wilted,
            ],
            added_water_l: 12.5,
        },
        heap: Heap {
            shape: Shape::SolidBin {
                width_m: 1.2,
                length_m: 1.2,
                height_m: 1.0,
                lid: Lid::Closed,
                board: Board::Timber,
            },
            base: Base::Paving,
            cover: Cover::Straw { thickness_m: 0.1 },
            in_sun: true,
            climate: climate(),
            start_day_of_year: 15.5,
            start_temperature_c: Some(11.0),
            days: 60.0,
            plan: rich_plan(),
        },
        own_materials: vec![
            material("own_reeds", 0.2, 0.46, 0.008),
            material("own_tea", 0.6, 0.45, 0.04),
        ],
        beds: vec![
            Bed {
                name: "Long bed \"by the wall\" (invented)".to_owned(),
                area_m2: 0.1 + 0.2,
                need: Need::High,
            },
            Bed {
                name: String::new(),
                area_m2: 12.5,
                need: Need::Low,
            },
        ],
        uses: vec![Use::Beds, Use::RawFood],
        field_tests: vec![TestResult {
            test: "bag".to_owned(),
            day: 130.5,
            result: 1,
            note: "smelt of vinegar\nonce more in a month".to_owned(),
        }],
        aim: Some(Aim::FinishedBy { day_of_year: 120 }),
        measures: vec![OwnMeasure {
            name: "my \"old\" barrow".to_owned(),
            litres: 85.0,
        }],
    }
}
