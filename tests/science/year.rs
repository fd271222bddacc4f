//! The year planner.

use std::time::Instant;

use heapwright::material::Catalogue;
use heapwright::year::plan;

#[test]
fn tried() {
    let catalogue = Catalogue::built_in().unwrap();
    let path = std::path::Path::new("demo-data/withybed-year.year.ron");
    let (file, catalogue) = heapwright::document::year::read_year(path, &catalogue).unwrap();
    let since = Instant::now();
    let plan = plan(&file.year, &catalogue).unwrap();
    println!("{:?}", since.elapsed());
    println!("{} {} {:?}", plan.objective, plan.proven, plan.short);
    for heap in &plan.heaps {
        let t = &heap.blend.totals;
        println!(
            "month {} {} cn {:.1} m {:.2} v {:.2} w {:.0}: {}",
            file.year.month_at(heap.month),
            file.year.bays[heap.bay].name,
            t.cn(),
            t.moisture(),
            t.volume_m3(),
            heap.mix.added_water_l,
            heap.mix
                .ingredients
                .iter()
                .map(|i| format!("{} {:.2} {:?}", i.material, i.amount.value, i.amount.measure))
                .collect::<Vec<_>>()
                .join(", ")
        );
    }
    for (a, f) in file.year.arrivals.iter().zip(&plan.fates) {
        println!(
            "{} arrived {} used {:.2} spoiled {:.2} left {:.2}",
            a.material,
            f.arrived.iter().sum::<f64>(),
            f.used.iter().sum::<f64>(),
            f.spoiled.iter().sum::<f64>(),
            f.left
        );
    }
    println!("{:?}", plan.stored_m3);
}
