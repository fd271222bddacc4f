//! The problems of `tests/reference/balance.csv`: invented materials, a mix, a goal, scipy's answer.

use heapwright::material::{Catalogue, Material, Sourced, Structure};
use heapwright::mix::balance::{Goal, Size, TargetBands};
use heapwright::mix::{Ingredient, Mix, TargetBand};
use heapwright::quantity::{Amount, Measure};

/// One problem with its answer.
pub struct Case {
    /// From 1.
    pub number: u32,
    /// The invented materials.
    pub catalogue: Catalogue,
    /// What there is.
    pub mix: Mix,
    /// What is to be reached.
    pub goal: Goal,
    /// Whether it can be with the volume at its best, says linprog.
    pub best: bool,
    /// Whether it can be with the volume that works.
    pub works: bool,
    /// Least effort with the volume at its best, says SLSQP, handfuls squared.
    pub least_effort: f64,
}

/// Every problem; the last is the one of 20 ingredients.
pub fn cases() -> Vec<Case> {
    let text = include_str!("../reference/balance.csv");
    let lines: Vec<Vec<&str>> = text
        .lines()
        .filter(|line| !line.starts_with('#'))
        .map(|line| line.split(',').collect())
        .collect();
    let starts = lines.iter().filter(|line| line[0] == "mix");
    starts
        .map(|head| {
            let of = |line: &&Vec<&str>| line[0] == "part" && line[1] == head[1];
            let parts: Vec<&Vec<&str>> = lines.iter().filter(of).collect();
            case(head, &parts)
        })
        .collect()
}

fn number(text: &str) -> f64 {
    text.parse().expect("the vectors hold numbers")
}

fn case(head: &[&str], parts: &[&Vec<&str>]) -> Case {
    let ends: Vec<f64> = head[4..12].iter().map(|text| number(text)).collect();
    let band = |place: usize| {
        let ends = (ends[place], ends[place + 1]);
        TargetBand {
            works: ends,
            best: ends,
        }
    };
    let built_in = Catalogue::built_in().expect("built-in tables are readable");
    let like = built_in.find("straw").expect("straw is built in");
    let own: Vec<Material> = parts
        .iter()
        .enumerate()
        .map(|(place, part)| material(like, place, part))
        .collect();
    Case {
        number: head[1].parse().expect("a whole number"),
        catalogue: built_in.with_own(&own).expect("the materials can be"),
        mix: Mix {
            ingredients: parts
                .iter()
                .zip(&own)
                .map(|(part, material)| ingredient(part, material))
                .collect(),
            added_water_l: number(head[3]),
        },
        goal: Goal {
            size: Size::Fill(number(head[2])),
            bands: TargetBands {
                cn: band(0),
                moisture: band(2),
                free_air_space: band(4),
                bulk_density_kg_per_m3: band(6),
            },
            ..Goal::of_room(None)
        },
        best: head[12] == "1",
        works: head[13] == "1",
        least_effort: number(head[14]),
    }
}

fn material(like: &Material, place: usize, part: &[&str]) -> Material {
    let value = |value: f64| Sourced {
        low: value,
        typical: value,
        high: value,
        ..like.moisture.clone()
    };
    let (carbon, nitrogen) = (number(part[3]), number(part[4]));
    Material {
        id: format!("own_{place}"),
        name: format!("Invented {place}"),
        moisture: value(number(part[2])),
        carbon: value(carbon),
        nitrogen: value(nitrogen),
        carbon_to_nitrogen: Some(value(carbon / nitrogen)),
        ash: value(number(part[5])),
        lignin: value(0.0),
        settles_share: number(part[6]),
        bulk_density: value(number(part[7])),
        structure: Structure::Crumbly,
        ..like.clone()
    }
}

fn ingredient(part: &[&str], material: &Material) -> Ingredient {
    let measure = match part[8] {
        "bucket" => Measure::Bucket,
        _ => Measure::Kilogram,
    };
    Ingredient {
        locked: part[10] == "1",
        stock: (!part[11].is_empty()).then(|| number(part[11])),
        ..Ingredient::new(&material.id, Amount::new(number(part[9]), measure))
    }
}
