//! A monkey that asks for anything in any order and types any number.

use eframe::egui::{Key, accesskit::Role};
use egui_kittest::kittest::Queryable;
use heapwright::document::ThemeChoice;
use heapwright::material::{Catalogue, Side};
use heapwright::quantity::{Measure, UnitSystem};
use heapwright::window::action::{Reply, YearAction};
use heapwright::window::piles::choices::SeasonsPage;
use heapwright::window::piles::drawer_choices::FormKind;
use heapwright::window::piles::year_desk::YearTab;
use heapwright::window::{Action, View};
use proptest::prelude::*;

use super::support::{Window, window};

/// What the monkey does once.
#[derive(Debug, Clone)]
enum Operation {
    Ask(Action),
    Slide(usize, f64),
    Type(usize, &'static str),
    Press(Key),
    /// Pushes a button of the Heap or the Results view, or picks a drawing.
    Push(&'static str),
}

/// What can be pushed in the Heap and the Results view.
const BUTTONS: [&str; 20] = [
    "+ Turn",
    "+ Turn inside out",
    "+ Water",
    "+ Cover with a sheet",
    "+ Uncover",
    "Remove entry 1",
    "Remove entry 2",
    "tumbler",
    "layer on the ground",
    "long row",
    "open heap",
    "in the sun",
    "Play",
    "Moisture",
    "+ Add bed",
    "Remove bed 1",
    "Remove bed 2",
    "seedlings",
    "Bag test",
    "ammonia",
];

fn action() -> impl Strategy<Value = Action> {
    let ids: Vec<String> = Catalogue::built_in()
        .unwrap()
        .materials()
        .iter()
        .map(|material| material.id.clone())
        .chain(["no_such_thing".to_owned()])
        .collect();
    let id = prop::sample::select(ids);
    let side = prop::sample::select(vec![Side::Green, Side::Brown, Side::Neither]);
    let measure = prop::sample::select(Measure::READY.to_vec());
    let plain = prop::sample::select(vec![
        Action::New,
        Action::OpenByPath,
        Action::SaveByPath,
        Action::OpenFile("/nowhere/at/all.heap.ron".into()),
        Action::UsePath("/nowhere/at/all".into()),
        Action::ClosePathField,
        Action::Keep,
        Action::Undo,
        Action::Redo,
        Action::Pin,
        Action::Unpin,
        Action::PickMaterial,
        Action::PickForPlan(None),
        Action::ProposePlan,
        Action::UsePlan,
        Action::LeavePlan,
        Action::Show(View::Mix),
        Action::Show(View::Heap),
        Action::Show(View::Seasons),
        Action::Year(YearAction::Show(SeasonsPage::Year)),
        Action::Year(YearAction::New),
        Action::Year(YearAction::AddBay),
        Action::Year(YearAction::PickArrival),
        Action::Year(YearAction::Tab(YearTab::Arrivals)),
        Action::Year(YearAction::Tab(YearTab::Bays)),
        Action::Show(View::Results),
        Action::SetUnits(UnitSystem::Metric),
        Action::SetUnits(UnitSystem::UsCustomary),
        Action::SetTheme(ThemeChoice::Dark),
        Action::ToggleNotes,
        Action::ToggleNotices,
        Action::TypePathInstead,
        Action::Reply(Reply::Yes),
        Action::Reply(Reply::No),
        Action::Reply(Reply::Cancel),
    ]);
    prop_oneof![
        4 => plain,
        2 => id.clone().prop_map(Action::AddMaterial),
        1 => (prop::option::of(0usize..4), id.clone()).prop_map(|(entry, id)| Action::AddToPlan(entry, id)),
        1 => (0usize..8).prop_map(Action::Remove),
        1 => (0usize..8).prop_map(Action::ToggleDetails),
        1 => (0usize..8).prop_map(Action::AsListed),
        1 => id.clone().prop_map(Action::ShowMaterial),
        1 => id.clone().prop_map(Action::DropMaterial),
        1 => id.clone().prop_map(Action::KeepMaterial),
        1 => prop::sample::select(vec![
            Action::OpenDrawer,
            Action::CloseDrawer,
            Action::StartForm(FormKind::Copy),
            Action::StartForm(FormKind::Report),
            Action::CloseForm,
        ]),
        1 => (0usize..8, measure).prop_map(|(row, measure)| Action::SetMeasure(row, measure)),
        2 => side.clone().prop_map(Action::AddBucket),
        1 => id.clone().prop_map(|id| Action::Year(YearAction::AddArrival(id))),
        1 => (0usize..4).prop_map(|row| Action::Year(YearAction::RemoveArrival(row))),
        1 => (0usize..4).prop_map(|bay| Action::Year(YearAction::RemoveBay(bay))),
        1 => (0usize..4).prop_map(|bay| Action::Year(YearAction::OpenHeap(bay))),
        1 => (side, id).prop_map(|(side, id)| Action::ChooseBucket(side, id)),
    ]
}

fn operation() -> impl Strategy<Value = Operation> {
    let value = prop::sample::select(vec![
        0.0,
        0.01,
        3.0,
        10.0,
        1e9,
        -5.0,
        f64::NAN,
        f64::INFINITY,
    ]);
    let text = prop::sample::select(vec![
        "0", "NaN", "-NaN", "1e300", "-3", "100000", "", "x", "7.5",
    ]);
    let key = prop::sample::select(vec![
        Key::Escape,
        Key::Enter,
        Key::Tab,
        Key::ArrowDown,
        Key::ArrowRight,
        Key::Space,
        Key::Delete,
    ]);
    prop_oneof![
        3 => action().prop_map(Operation::Ask),
        3 => (0usize..9, value).prop_map(|(which, value)| Operation::Slide(which, value)),
        2 => (0usize..12, text).prop_map(|(which, text)| Operation::Type(which, text)),
        1 => key.prop_map(Operation::Press),
        2 => prop::sample::select(BUTTONS.to_vec()).prop_map(Operation::Push),
    ]
}

fn perform(window: &mut Window, operation: Operation) {
    match operation {
        Operation::Ask(action) => window.harness.state_mut().ask(action),
        Operation::Slide(which, value) => {
            if let Some(slider) = window.harness.query_all_by_role(Role::Slider).nth(which)
                && !window.app().state.is_covered()
            {
                slider.set_value_accesskit(value);
            }
        }
        Operation::Type(which, text) => {
            let Some(field) = window
                .harness
                .query_all_by_role(Role::SpinButton)
                .nth(which)
            else {
                return;
            };
            if window.app().state.is_covered() {
                return;
            }
            field.click();
            window.harness.step();
            window.harness.step();
            window
                .harness
                .event(eframe::egui::Event::Text(text.to_owned()));
            window.harness.step();
            window.harness.key_press(Key::Enter);
        }
        Operation::Press(key) => window.harness.key_press(key),
        Operation::Push(name) => {
            if !window.app().state.is_covered()
                && let Some(button) = window.harness.query_all_by_label(name).next()
            {
                button.click();
            }
        }
    }
    window.harness.step();
    window.harness.step();
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, max_shrink_iters: 200, ..ProptestConfig::default() })]

    /// The same, begun in the Heap view.
    #[test]
    fn nothing_a_monkey_does_to_the_heap_breaks_the_project(
        operations in prop::collection::vec(operation(), 1..40),
    ) {
        let mut window = window();
        window.press("Heap");
        for operation in operations {
            perform(&mut window, operation);
            let checked = window.app().project.check_alone();
            prop_assert!(checked.is_ok(), "{:?}", checked);
        }
    }

    /// Whatever is done, the project stays one that can be saved, and nothing panics.
    #[test]
    fn nothing_a_monkey_does_breaks_the_project(operations in prop::collection::vec(operation(), 1..40)) {
        let mut window = window();
        for operation in operations {
            perform(&mut window, operation);
            let checked = window.app().project.check_alone();
            prop_assert!(checked.is_ok(), "{:?}", checked);
        }
    }
}
