//! The materials drawer, its pages and forms, and the state of an ingredient.

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::document::{Folders, library};
use heapwright::material::own::Squeeze;
use heapwright::material::{Confidence, Family, Order};
use heapwright::quantity::{Range, UnitSystem};
use heapwright::text::number::Digits;
use heapwright::window::Action;
use heapwright::window::piles::drawer_choices::FormKind;
use heapwright::window::widgets::range_bar::RangeBar;

use super::support::{Window, window};

const GRASS: &str = "Grass clippings, fresh and loose";

fn opened_on(id: &str) -> Window {
    let mut window = window();
    window.ask_and_settle(Action::ShowMaterial(id.to_owned()));
    window
}

impl Window {
    fn ask_and_settle(&mut self, action: Action) {
        self.harness.state_mut().ask(action);
        self.settle();
    }

    /// Frames enough for a list to come to rest while a notice stands over it.
    fn settle(&mut self) {
        self.harness.run_steps(15);
    }

    fn press_beside_notice(&mut self, name: &str) {
        self.harness
            .get_by_role_and_label(Role::Button, name)
            .click();
        self.settle();
    }

    fn drawer(&self) -> &heapwright::window::piles::drawer_choices::DrawerState {
        self.app().state.drawer.as_ref().unwrap()
    }

    fn form(&mut self) -> &mut heapwright::window::piles::drawer_choices::Form {
        let drawer = self.harness.state_mut().bench.state.drawer.as_mut();
        drawer.unwrap().form.as_mut().unwrap()
    }
}

#[test]
fn the_keyboard_opens_searches_chooses_and_closes() {
    let mut window = window();
    window.command(Key::L);
    let field = window
        .harness
        .get_by_role_and_label(Role::TextInput, "Search the drawer");
    assert!(field.is_focused(), "typing must go on at once");
    field.type_text("coffee");
    window.run();
    window.harness.key_press(Key::ArrowDown);
    window.run();
    assert_eq!(window.drawer().chosen.as_deref(), Some("coffee_grounds"));
    assert!(window.shows("Are coffee grounds sour?"));
    assert!(window.shows("second-hand, not checked"));
    window.harness.key_press(Key::Escape);
    window.run();
    assert!(window.app().state.drawer.is_none());
}

#[test]
fn a_page_shows_every_value_with_range_and_source() {
    let window = opened_on("leaves_mixed");
    let moisture = window.gauge("Moisture 38 %");
    assert!(
        moisture.contains("(10 to 60)") && moisture.contains("printed in NEH"),
        "{moisture}"
    );
    assert!(window.gauge("Ash").contains("from memory"));
    for name in [
        "C:N 54",
        "Bulk density 120",
        "Nitrogen",
        "Carbon",
        "Lignin",
        "Phosphate",
        "Potash",
        "pH",
    ] {
        window.gauge(name);
    }
    assert!(window.shows("Structure: airy when dry, mats when wet."));
    assert!(window.shows("within weeks"));
    assert!(window.shows("Will leaves alone heat up?"));
    assert!(window.shows("NEH: USDA NRCS"));
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
}

#[test]
fn the_list_is_drawn_only_where_it_is_seen_and_can_be_narrowed() {
    let mut window = window();
    window.ask_and_settle(Action::OpenDrawer);
    assert!(window.shows("178 materials"));
    let rows = |window: &Window| {
        let nodes = window.harness.root().children_recursive();
        nodes
            .filter_map(|node| node.accesskit_node().label())
            .filter(|label| label.starts_with("Page of "))
            .count()
    };
    let seen = rows(&window);
    assert!((5..40).contains(&seen), "{seen} rows are drawn");
    let drawer = window
        .harness
        .state_mut()
        .bench
        .state
        .drawer
        .as_mut()
        .unwrap();
    drawer.browse.family = Some(Family::Grass);
    drawer.browse.order = Order::Moisture;
    window.run();
    assert!(window.shows("6 materials"));
    window.harness.key_press(Key::ArrowDown);
    window.run();
    assert_eq!(window.drawer().chosen.as_deref(), Some("grass_dry"));
}

#[test]
fn a_material_is_added_from_its_page_and_undone() {
    let mut window = opened_on("straw_oat");
    window.press("Add to the mix");
    let rows = &window.app().project.mix.ingredients;
    assert_eq!(rows.last().unwrap().material, "straw_oat");
    assert!(window.app().state.drawer.is_none());
    window.ask_and_settle(Action::Undo);
    assert_eq!(window.app().project.mix.ingredients.len(), 3);
}

#[test]
fn a_lab_report_becomes_a_material_of_the_recipe() {
    let mut window = opened_on("straw");
    window.press("From a lab report…");
    assert!(window.shows("Not yet: the material has no name yet"));
    let form = window.form();
    form.name = "Reed cuttings".to_owned();
    form.report.moisture_pct = 40.0;
    form.report.ash_pct = Some(10.0);
    form.report.nitrogen_pct = 2.0;
    window.run();
    assert!(window.shows("carbon = (100 - ash) / 1.8"));
    assert!(window.shows("Adams et al. 1951"));
    window.press("Add to my materials");
    let own = &window.app().project.own_materials;
    assert_eq!(own.len(), 1);
    assert_eq!(own[0].id, "own_reed_cuttings");
    assert_eq!(window.drawer().chosen.as_deref(), Some("own_reed_cuttings"));
    assert!(
        window
            .gauge("C:N 25")
            .contains("calculated from your measurement")
    );
    // Into the mix, and everything is calculated with it.
    window.press("Add to the mix");
    assert!(window.app().shown.stages.problem().is_none());
    assert_eq!(window.app().project.mix.ingredients.len(), 4);
    // Undone twice, recipe and catalogue are as before.
    window.ask_and_settle(Action::Undo);
    window.ask_and_settle(Action::Undo);
    assert!(window.app().project.own_materials.is_empty());
    window.ask_and_settle(Action::OpenDrawer);
    assert!(window.shows("178 materials"));
}

#[test]
fn a_bucket_test_goes_step_by_step() {
    let mut window = opened_on("grass_fresh");
    window.press("From a bucket test…");
    assert!(window.shows("Step 1 of 4"));
    window.form().name = "Bay two".to_owned();
    window.press("Next step");
    assert!(window.shows("Step 2 of 4"));
    let form = window.form();
    (
        form.bucket.bucket_l,
        form.bucket.empty_kg,
        form.bucket.full_kg,
    ) = (20.0, 1.0, 10.0);
    window.run();
    assert!(
        !window.shows("full bucket"),
        "nothing is wrong with these weights"
    );
    window.form().bucket.full_kg = 0.5;
    window.run();
    assert!(window.shows("full bucket"), "it is said where it is typed");
    window.form().bucket.full_kg = 10.0;
    window.press("Next step");
    let form = window.form();
    (form.bucket.sample_wet_g, form.bucket.sample_dry_g) = (10.0, 12.0);
    window.run();
    assert!(window.shows("weighs more than the fresh one"));
    window.press("Next step");
    assert!(window.shows("weighs more than the fresh one"));
    window.press("Previous step");
    window.form().bucket.sample_dry_g = 2.3;
    window.press("Next step");
    window.form().bucket.squeeze = Some(Squeeze::Dusty);
    window.run();
    // Eawag's bucket and Cornell's clippings; see tests/science/own_materials.rs.
    assert!(window.shows("450 kg/m³") && window.shows("77 %"));
    assert!(window.shows("The squeeze"));
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    window.press("Add to my materials");
    let made = &window.app().project.own_materials[0];
    assert_eq!(made.moisture.sources, ["OWN"]);
    assert!(made.note.starts_with("What was not measured is taken from"));
}

#[test]
fn weights_are_typed_in_the_units_shown() {
    let mut window = opened_on("grass_fresh");
    window.ask_and_settle(Action::SetUnits(UnitSystem::UsCustomary));
    window.press("From a bucket test…");
    window.press("Next step");
    window.type_number("The bucket holds", "5");
    window.type_number("Full bucket", "20");
    let bucket = window.form().bucket;
    // 1 US gallon is 231 cubic inches and 1 inch 25.4 mm; 1 lb is 0.453 592 37 kg; both exact.
    assert!((bucket.bucket_l - 5.0 * 231.0 * 0.0254_f64.powi(3) * 1000.0).abs() < 1e-9);
    assert!((bucket.full_kg - 20.0 * 0.453_592_37).abs() < 1e-9);
    // What was not touched is as it was, to the last bit.
    assert_eq!(bucket.empty_kg.to_bits(), 0.5_f64.to_bits());
}

#[test]
fn a_copy_keeps_the_sources_of_what_was_left_alone() {
    let mut window = opened_on("straw");
    window.press("Copy and change…");
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    window.form().copy.moisture.typical = 0.2;
    window.run();
    window.press("Add to my materials");
    let own = &window.app().project.own_materials[0];
    assert_eq!(
        (own.name.as_str(), own.moisture.typical),
        ("Straw, mixed or unknown (own)", 0.2)
    );
    assert_eq!(own.moisture.sources, ["OWN"]);
    assert_eq!(own.moisture.confidence, Confidence::Recalled);
    assert_ne!(own.nitrogen.sources, ["OWN"]);
    // Escape leaves a form before it leaves the drawer.
    window.press("Copy and change…");
    window.harness.key_press(Key::Escape);
    window.run();
    assert!(window.drawer().form.is_none());
}

#[test]
fn an_own_material_is_kept_and_met_again_in_another_recipe() {
    let mut window = opened_on("straw");
    window.press("Copy and change…");
    window.press("Add to my materials");
    let id = window.app().project.own_materials[0].id.clone();
    window.press_beside_notice("Keep for every recipe");
    let folders = Folders::under(window.folder.path());
    assert_eq!(library::materials(&folders).materials.len(), 1);
    // Taken out here, it is still in the library, and comes back with a press.
    window.press_beside_notice("Take out of this recipe");
    assert!(window.app().project.own_materials.is_empty());
    window.ask_and_settle(Action::ShowMaterial(id.clone()));
    assert!(window.shows("179 materials"));
    window.press_beside_notice("Add to the mix");
    assert_eq!(window.app().project.own_materials.len(), 1);
    assert_eq!(
        window
            .app()
            .project
            .mix
            .ingredients
            .last()
            .unwrap()
            .material,
        id
    );
    assert!(window.app().shown.stages.problem().is_none());
    // What the mix uses is not taken away from under it.
    window.ask_and_settle(Action::DropMaterial(id));
    assert_eq!(window.app().project.own_materials.len(), 1);
    assert!(window.shows("take it out there first"));
}

#[test]
fn wilting_a_row_moves_the_gauges_and_is_said_and_undone() {
    let mut window = window();
    let before = window.gauge("Moisture");
    window.press(&format!("State of {GRASS}"));
    window.slide(&format!("Wilted: {GRASS}"), 2.0);
    let row = &window.app().project.mix.ingredients[1];
    assert!((row.condition.wilted_days - 2.0).abs() < 1e-9);
    assert_ne!(window.gauge("Moisture"), before);
    assert!(window.shows("Wilted: moisture"));
    assert_eq!(window.harness.unnamed_widgets(), Vec::<String>::new());
    assert!(window.app().project.check_alone().is_ok());
    window.press("As in the catalogue");
    assert_eq!(window.gauge("Moisture"), before);
    window.ask_and_settle(Action::Undo);
    assert!(
        !window.app().project.mix.ingredients[1]
            .condition
            .is_as_listed()
    );
}

#[test]
fn a_row_leads_to_the_page_of_its_material() {
    let mut window = window();
    window.press(&format!("State of {GRASS}"));
    window.press("About this material…");
    assert_eq!(window.drawer().chosen.as_deref(), Some("grass_fresh"));
    window.ask_and_settle(Action::StartForm(FormKind::Report));
    assert_eq!(window.form().like.id, "grass_fresh");
}

#[test]
fn a_bar_places_low_typical_and_high() {
    let bar = RangeBar {
        name: "C:N",
        range: Range::new(5.0, 50.0, 900.0),
        scale: (5.0, 500.0),
        by_factors: true,
        unit: "",
        digits: Digits::Ratio,
        origin: String::new(),
        explained: String::new(),
    };
    // Equal factors, equal steps: 50 is halfway from 5 to 500. Beyond the end counts as the end.
    assert!((bar.share(50.0) - 0.5).abs() < 1e-6);
    assert_eq!((bar.share(5.0), bar.share(900.0)), (0.0, 1.0));
    assert_eq!(bar.text(), "50.0 (5.0 to 900)");
    let even = RangeBar {
        by_factors: false,
        scale: (0.0, 100.0),
        unit: "%",
        digits: Digits::Whole,
        range: Range::exact(38.0),
        ..bar
    };
    assert!((even.share(38.0) - 0.38).abs() < 1e-6);
    assert_eq!(even.text(), "38 %");
}
