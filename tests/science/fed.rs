//! Fed bit by bit against built at once: the same sums, and the order that is published of small and large heaps.
//!
//! Source: Cornell Waste Management Institute, Compost physics (page read): the larger the mass, the hotter it gets; fed
//! home bins stay at 24-57 degC (Karnchanawong and Suriyanon 2011, abstract) and 26.7-46.2 degC (Ambiente e Agua 2017,
//! abstract) where a right cubic metre reaches 55-65 (T3).

use std::sync::atomic::AtomicBool;

use heapwright::heap::{
    Addition, Event, Heap, Operation, Placing, Repeat, Resolution, Shape, simulate,
};
use heapwright::mix::{Mix, Totals};
use heapwright::outcome::fed::{FedOrSaved, fed_or_saved};
use heapwright::quantity::UnitSystem;
use heapwright::text::fed::{ways, why};

use crate::support::close;
use crate::support::heaps::{GOOD, Recipe, place};

fn compared(times: u32) -> Option<FedOrSaved> {
    let of = |volume_m3: f64| Recipe { volume_m3, ..GOOD }.totals();
    let mut heap = place(
        Shape::SlattedBin {
            width_m: 1.0,
            length_m: 1.0,
            height_m: 1.0,
        },
        14.0,
    );
    let add = Operation::Add {
        mix: Mix::default(),
        placing: Placing::OnTop,
    };
    let repeat = Repeat {
        every_days: 7.0,
        times,
    };
    heap.plan.events.push(Event {
        repeat: Some(repeat),
        ..Event::once(7.0, add)
    });
    let (first, portion) = (of(0.06), of(0.06));
    let run = |totals: &Totals, additions: &[Addition], heap: &Heap| {
        let stop = AtomicBool::new(false);
        let p = simulate(totals, additions, heap, &Resolution::coarse(), &stop)?;
        let whole = first.dry_kg + f64::from(times) * portion.dry_kg;
        close("the same sums", p.ledger.dry_start_kg, whole, 1e-9);
        Some(p)
    };
    fed_or_saved(&first, &[(0, portion)], &heap, run)
}

#[test]
fn sixteen_weekly_portions_stay_cooler_than_all_of_them_at_once() {
    let of = compared(15).unwrap();
    assert!(of.saved.peak_c > of.fed.peak_c + 5.0, "{of:?}");
    assert!(of.saved.days_above_40 > of.fed.days_above_40, "{of:?}");
    assert!((50.0..=70.0).contains(&of.saved.peak_c), "{of:?}");
    assert!(
        of.fed.quick_food_kg < 0.5 * of.saved.quick_food_kg,
        "{of:?}"
    );
    assert_eq!(of.built_on, 100.0 + 7.0 * 15.0);
    let [fed, saved] = ways(&of, UnitSystem::Metric);
    println!("{fed}\n{saved}\n{}", why(&of, UnitSystem::Metric));
    assert!(saved.contains("built at once on 24 July"), "{saved}");
    assert!(why(&of, UnitSystem::Metric).contains("quick food"));
}

#[test]
fn one_addition_is_no_feeding() {
    assert_eq!(compared(1), None);
}
