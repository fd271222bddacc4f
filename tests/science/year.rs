//! The year planner: against the mixes it names, against odd years. Its optimum is held against scipy in `year_scipy`.

use heapwright::material::Catalogue;
use heapwright::mix::{TargetBand, bands, blend};
use heapwright::quantity::Measure;
use heapwright::year::{
    Arrival, BandPart, Bay, INSET, Keeps, Plan, Unplanned, Wish, Year, YearError, keeps, plan,
};
use proptest::prelude::*;

use crate::year_scipy::SAME;

fn catalogue() -> Catalogue {
    Catalogue::built_in().unwrap()
}

fn arrival(material: &str, measure: Measure, monthly: [f64; 12]) -> Arrival {
    Arrival {
        material: material.to_owned(),
        condition: Default::default(),
        measure,
        monthly,
        keeps: None,
    }
}

fn bay(name: &str, room_m3: f64) -> Bay {
    Bay {
        name: name.to_owned(),
        room_m3,
        takes: Vec::new(),
        fills_weeks: 1.0,
        works_weeks: 10.0,
        cures_weeks: 8.0,
        free_from: None,
    }
}

/// A garden with leaves in autumn, grass in summer, horse manure and straw all year.
fn garden() -> Year {
    let summer = [
        0.0, 0.0, 2.0, 8.0, 14.0, 14.0, 12.0, 10.0, 8.0, 2.0, 0.0, 0.0,
    ];
    let autumn = [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 20.0, 30.0, 8.0];
    Year {
        first_month: 10,
        part: BandPart::Best,
        arrivals: vec![
            arrival("leaves_dry_loose", Measure::Sack, autumn),
            arrival("grass_fresh", Measure::GrassBox, summer),
            arrival("straw_wheat", Measure::Bale, [1.0; 12]),
            arrival("horse_straw", Measure::Barrow, [2.0; 12]),
            arrival("veg_scraps", Measure::Caddy, [8.0; 12]),
        ],
        storage_m3: 6.0,
        bays: vec![bay("A", 1.44), bay("B", 1.44), bay("C", 1.0)],
        wishes: Vec::new(),
    }
}

/// Everything that must be true of any plan.
#[track_caller]
fn keeps_its_word(year: &Year, catalogue: &Catalogue, plan: &Plan) {
    let reach = |limit: f64| 1e-6 * limit.abs();
    let works = year.part == BandPart::Works;
    let part = |band: TargetBand| if works { band.works } else { band.best };
    for heap in &plan.heaps {
        // The mix a person would build, blended anew: not the sums of the program.
        let parts = heap.mix.resolve(catalogue).unwrap();
        let totals = blend(&parts, heap.mix.added_water_l).totals;
        let room = year.bays[heap.bay].room_m3;
        let inside = |what: &str, value: f64, (low, high): (f64, f64)| {
            assert!(
                value >= low - reach(low) && value <= high + reach(high),
                "{what} {value} is not in {low} to {high}: {:?}",
                heap.mix
            );
        };
        inside("C:N", totals.cn(), part(bands::CN));
        inside("moisture", totals.moisture(), part(bands::MOISTURE));
        inside(
            "air",
            totals.settled_air_space(),
            bands::FREE_AIR_SPACE.works,
        );
        let density = totals.wet_kg() / totals.volume_m3();
        inside("density", density, bands::BULK_DENSITY_KG_PER_M3.works);
        let least = if room >= bands::KEEPS_HEAT_FROM_M3 {
            bands::KEEPS_HEAT_FROM_M3
        } else {
            0.6 * room
        };
        inside("volume", totals.volume_m3(), (least, room));
        assert_eq!(
            heap.keeps_heat,
            totals.volume_m3() >= bands::KEEPS_HEAT_FROM_M3
        );
    }
    for (row, fate) in plan.fates.iter().enumerate() {
        let sum = |months: &[f64; 12]| months.iter().sum::<f64>();
        let (arrived, gone) = (
            sum(&fate.arrived),
            sum(&fate.used) + sum(&fate.spoiled) + fate.left,
        );
        assert!(
            (arrived - gone).abs() <= 1e-9 * arrived.max(1.0),
            "{arrived} {gone}"
        );
        let in_heaps: f64 = plan
            .heaps
            .iter()
            .flat_map(|heap| &heap.uses)
            .filter(|it| it.arrival == row)
            .map(|it| it.measures)
            .sum();
        assert!((in_heaps - sum(&fate.used)).abs() <= 1e-9 * arrived.max(1.0));
        let mut so_far = 0.0;
        for month in 0..12 {
            so_far += fate.arrived[month] - fate.used[month];
            assert!(so_far >= -1e-6, "used before it is there");
            assert!(fate.spoiled[month] >= 0.0 && fate.used[month] >= 0.0);
        }
        assert!(fate.left >= 0.0);
    }
    for stored in plan.stored_m3 {
        assert!(stored <= year.storage_m3 + 1e-6, "{stored}");
    }
    for month in 0..40 {
        for number in 0..year.bays.len() {
            let standing = plan
                .heaps
                .iter()
                .filter(|heap| heap.bay == number && heap.month <= month && month < heap.free_from);
            assert!(standing.count() <= 1, "two heaps in one bay");
        }
    }
}

#[test]
fn every_heap_of_a_plan_lies_in_its_bands_when_it_is_blended() {
    let (year, catalogue) = (garden(), catalogue());
    let found = plan(&year, &catalogue).unwrap();
    assert!(found.heaps.len() >= 4, "{}", found.heaps.len());
    assert!(found.proven);
    keeps_its_word(&year, &catalogue, &found);
    let works = Year {
        part: BandPart::Works,
        ..year
    };
    let wider = plan(&works, &catalogue).unwrap();
    keeps_its_word(&works, &catalogue, &wider);
    assert!(
        wider.objective > found.objective,
        "wider bands must count no less"
    );
}

#[test]
fn what_the_heaps_take_is_in_measures_that_people_handle() {
    let (year, catalogue) = (garden(), catalogue());
    let plan = plan(&year, &catalogue).unwrap();
    let uses: Vec<f64> = plan
        .heaps
        .iter()
        .flat_map(|heap| &heap.uses)
        .map(|it| it.measures)
        .collect();
    let handy = uses
        .iter()
        .filter(|it| ((**it * 20.0).round() - **it * 20.0).abs() < 1e-6)
        .count();
    assert!(
        handy * 10 >= uses.len() * 9,
        "{handy} of {}: {uses:?}",
        uses.len()
    );
}

#[test]
fn wishes_are_kept() {
    let catalogue = catalogue();
    let mut year = garden();
    let before = plan(&year, &catalogue).unwrap();
    year.wishes = vec![
        Wish::Build {
            bay: "B".to_owned(),
            month: 5,
        },
        Wish::Empty {
            bay: "A".to_owned(),
            month: 11,
        },
        Wish::Put {
            bay: "B".to_owned(),
            month: 5,
            material: "grass_fresh".to_owned(),
            amount: 3.0,
        },
    ];
    let after = plan(&year, &catalogue).unwrap();
    keeps_its_word(&year, &catalogue, &after);
    let may = year.place_of(5);
    let heap = after
        .heaps
        .iter()
        .find(|heap| heap.bay == 1 && heap.month == may)
        .unwrap();
    let grass: f64 = heap
        .uses
        .iter()
        .filter(|it| it.arrival == 1)
        .map(|it| it.measures)
        .sum();
    assert!((grass - 3.0).abs() < 1e-6, "{grass}");
    let november = year.place_of(11);
    assert!(
        !after
            .heaps
            .iter()
            .any(|heap| heap.bay == 0 && heap.month <= november && november < heap.free_from)
    );
    assert!(after.objective <= before.objective + 1e-6);
}

#[test]
fn a_plan_locked_as_it_is_comes_back() {
    let catalogue = catalogue();
    let mut year = garden();
    let before = plan(&year, &catalogue).unwrap();
    for heap in &before.heaps {
        let name = year.bays[heap.bay].name.clone();
        let month = year.month_at(heap.month);
        year.wishes.push(Wish::Build { bay: name, month });
    }
    let after = plan(&year, &catalogue).unwrap();
    let close = (after.objective - before.objective).abs() <= SAME * before.objective;
    assert!(close, "{} {}", after.objective, before.objective);
    let where_ = |plan: &Plan| {
        plan.heaps
            .iter()
            .map(|heap| (heap.bay, heap.month))
            .collect::<Vec<_>>()
    };
    assert_eq!(where_(&after), where_(&before));
}

#[test]
fn wishes_that_cannot_be_met_are_named() {
    let catalogue = catalogue();
    let mut year = garden();
    year.wishes = vec![
        Wish::Build {
            bay: "C".to_owned(),
            month: 6,
        },
        Wish::Build {
            bay: "A".to_owned(),
            month: 4,
        },
        Wish::Empty {
            bay: "A".to_owned(),
            month: 5,
        },
    ];
    assert_eq!(plan(&year, &catalogue), Err(Unplanned::Wishes(vec![1, 2])));
    year.wishes = vec![
        Wish::Build {
            bay: "B".to_owned(),
            month: 4,
        },
        Wish::Put {
            bay: "A".to_owned(),
            month: 1,
            material: "leaves_dry_loose".to_owned(),
            amount: 900.0,
        },
    ];
    assert_eq!(plan(&year, &catalogue), Err(Unplanned::Wishes(vec![1])));
    let said = plan(&year, &catalogue).unwrap_err().to_string();
    assert!(said.contains("wish") && said.contains('2'), "{said}");
}

#[test]
fn more_leaves_would_have_saved_grass() {
    let catalogue = catalogue();
    let mut year = garden();
    year.arrivals
        .retain(|row| row.material == "leaves_dry_loose" || row.material == "grass_fresh");
    year.arrivals[0].monthly = [0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 3.0, 0.0, 0.0];
    year.arrivals[1].keeps = Some(Keeps::Days(20.0));
    let found = plan(&year, &catalogue).unwrap();
    assert!(found.heaps.is_empty(), "{:?}", found.heaps);
    let short = found.short.unwrap();
    assert!(
        short
            .lacking
            .iter()
            .all(|(_, row, measures)| *row == 0 && *measures > 1.0),
        "{short:?}"
    );
    assert!(
        short
            .saves
            .iter()
            .any(|(row, measures)| *row == 1 && *measures > 1.0)
    );
    for (month, _, measures) in &short.lacking {
        let month = usize::from(year.month_at(*month)) - 1;
        year.arrivals[0].monthly[month] += 1.001 * measures;
    }
    let with_more = plan(&year, &catalogue).unwrap();
    let grass: f64 = with_more.fates[1].used.iter().sum();
    let promised = short.saves[0].1;
    assert!(grass > 0.95 * promised, "{grass} of {promised} promised");
}

#[test]
fn numbers_and_names_that_cannot_be_are_refused_with_their_place() {
    let catalogue = catalogue();
    let refused = |change: &dyn Fn(&mut Year), words: &[&str]| {
        let mut year = garden();
        change(&mut year);
        let said = plan(&year, &catalogue).unwrap_err().to_string();
        for word in words {
            assert!(said.contains(word), "{said} lacks {word}");
        }
    };
    refused(
        &|year| year.arrivals[1].monthly[3] = f64::NAN,
        &["arrival 2", "month 4", "NaN"],
    );
    refused(
        &|year| year.arrivals[0].monthly[0] = -1.0,
        &["arrival 1", "month 1", "-1"],
    );
    refused(
        &|year| year.bays[2].room_m3 = f64::INFINITY,
        &["bay 3", "inf"],
    );
    refused(&|year| year.storage_m3 = f64::NAN, &["store", "NaN"]);
    refused(&|year| year.first_month = 13, &["first month", "13"]);
    refused(
        &|year| year.arrivals[0].material = "leafs".to_owned(),
        &["arrival 1", "leafs"],
    );
    refused(
        &|year| year.bays[1].name = "A".to_owned(),
        &["bay", "A", "twice"],
    );
    refused(
        &|year| {
            year.wishes = vec![Wish::Build {
                bay: "Z".to_owned(),
                month: 1,
            }]
        },
        &["wish 1", "bay", "Z"],
    );
    refused(
        &|year| year.bays[0].takes = vec!["straw".to_owned()],
        &["bay", "A", "straw"],
    );
    let mut year = garden();
    year.arrivals[1].material = "leaves_dry_loose".to_owned();
    assert!(matches!(
        plan(&year, &catalogue),
        Err(Unplanned::Year(YearError::Twice { .. }))
    ));
}

#[test]
fn what_is_dry_keeps_and_what_is_fresh_does_not() {
    let catalogue = catalogue();
    let months = |id: &str| match keeps(catalogue.find(id).unwrap()) {
        Keeps::Months(months) => f64::from(months),
        Keeps::Days(days) => days / 30.0,
    };
    // Common practice: hay and straw keep for years, mowings and scraps for days.
    for id in ["straw_wheat", "grass_dry", "leaves_dry_loose", "cardboard"] {
        assert!(months(id) >= 12.0, "{id}");
    }
    for id in ["grass_fresh", "veg_scraps", "weeds_soft"] {
        assert!(months(id) < 0.5, "{id}");
    }
}

fn odd_year() -> impl Strategy<Value = Year> {
    let amount = prop_oneof![Just(0.0), 0.0..30.0_f64, Just(100_000.0)];
    let monthly = proptest::array::uniform12(amount);
    let ids = [
        "leaves_dry_loose",
        "grass_fresh",
        "straw_wheat",
        "horse_straw",
        "urine",
        "veg_scraps",
        "cardboard",
    ];
    let rows = proptest::sample::subsequence(ids.to_vec(), 0..=5).prop_flat_map(move |ids| {
        let many = ids.len();
        (Just(ids), proptest::collection::vec(monthly.clone(), many))
    });
    let bay = (0.01..3.0_f64, 0.0..20.0_f64, 0.0..60.0_f64, 0.0..20.0_f64);
    let bays = proptest::collection::vec(bay, 0..4);
    (
        rows,
        bays,
        1..=12_u8,
        prop_oneof![Just(0.0), 0.0..10.0_f64],
        any::<bool>(),
    )
        .prop_map(
            |((ids, monthly), bays, first_month, storage_m3, best)| Year {
                first_month,
                part: if best {
                    BandPart::Best
                } else {
                    BandPart::Works
                },
                arrivals: ids
                    .into_iter()
                    .zip(monthly)
                    .map(|(id, monthly)| arrival(id, Measure::Bucket, monthly))
                    .collect(),
                storage_m3,
                bays: bays
                    .into_iter()
                    .enumerate()
                    .map(|(at, (room_m3, fills, works, cures))| Bay {
                        fills_weeks: fills,
                        works_weeks: works,
                        cures_weeks: cures,
                        ..bay_of(at, room_m3)
                    })
                    .collect(),
                wishes: Vec::new(),
            },
        )
}

fn bay_of(at: usize, room_m3: f64) -> Bay {
    bay(&format!("bay {at}"), room_m3)
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn odd_years_are_planned_too(year in odd_year()) {
        let catalogue = catalogue();
        let found = plan(&year, &catalogue).unwrap();
        prop_assert!(found.objective >= -1e-6);
        keeps_its_word(&year, &catalogue, &found);
    }
}

#[test]
fn without_arrivals_or_bays_nothing_is_built() {
    let catalogue = catalogue();
    let no_bays = Year {
        bays: Vec::new(),
        ..garden()
    };
    let found = plan(&no_bays, &catalogue).unwrap();
    assert!(found.heaps.is_empty());
    keeps_its_word(&no_bays, &catalogue, &found);
    let nothing = Year {
        arrivals: Vec::new(),
        ..garden()
    };
    assert!(plan(&nothing, &catalogue).unwrap().heaps.is_empty());
    // The room that measures need is a small one.
    const { assert!(INSET < 0.01) };
}
