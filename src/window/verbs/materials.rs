//! What the materials drawer asks for, carried out.
//!
//! In: a material or its id. Out: a changed project, state or file.
//!
//! Not here: the list of actions (`action`), other actions (`verbs::perform`).
//!
//! Tested by: `tests/window/materials.rs`.

use crate::document::library;
use crate::heap::Operation;
use crate::material::{Catalogue, Material};

use crate::text::{change, error};
use crate::window::piles::drawer_choices::{DrawerState, Form, FormKind};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Opens the drawer, on a material if one is given.
    pub(in crate::window) fn open_drawer(&mut self, id: Option<String>) {
        self.state.picker = None;
        self.list_kept_materials();
        let reveal = id.is_some();
        self.state.drawer = Some(DrawerState {
            chosen: id,
            reveal,
            ..DrawerState::default()
        });
    }

    /// Reads the kept materials anew; what cannot be read is told once.
    fn list_kept_materials(&mut self) {
        let Some(folders) = self.store.folders.clone() else {
            return;
        };
        let kept = library::materials(&folders);
        if let Some(problem) = kept.problems.first() {
            self.refuse(error::SOME_MATERIALS_UNREAD, problem);
        }
        self.shelf.kept_materials = Catalogue::default()
            .with_own(&kept.materials)
            .unwrap_or_default();
    }

    /// Opens a form that starts from the material shown.
    pub(in crate::window) fn start_form(&mut self, kind: FormKind) {
        let Some(drawer) = &self.state.drawer else {
            return;
        };
        let like = drawer.chosen.as_ref().and_then(|id| {
            self.stock
                .all
                .find(id)
                .or_else(|| self.shelf.kept_materials.find(id))
        });
        let Some(like) = like.or_else(|| self.stock.all.materials().first()) else {
            return;
        };
        let form = Form::new(kind, like);
        if let Some(drawer) = &mut self.state.drawer {
            drawer.form = Some(form);
        }
    }

    /// Leaves the form without taking anything over.
    pub(in crate::window) fn close_form(&mut self) {
        if let Some(drawer) = &mut self.state.drawer {
            drawer.form = None;
        }
    }

    /// Takes an own material into the recipe and shows its page.
    pub(in crate::window) fn take_material(&mut self, material: Material) {
        let label = change::own_material(&material.name);
        let id = material.id.clone();
        self.project.own_materials.push(material);
        if self.record_or_revert(&label)
            && let Some(drawer) = &mut self.state.drawer
        {
            drawer.form = None;
            drawer.chosen = Some(id);
            drawer.reveal = true;
            drawer.browse = crate::material::Browse::default();
        }
    }

    /// A kept material that the recipe does not hold yet comes into it.
    pub(in crate::window) fn bring_kept(&mut self, id: &str) {
        if self.stock.all.find(id).is_none()
            && let Some(material) = self.shelf.kept_materials.find(id)
        {
            self.project.own_materials.push(material.clone());
        }
    }

    /// Keeps an own material for every recipe.
    pub(in crate::window) fn keep_material(&mut self, id: &str) {
        let Some(material) = self.stock.all.find(id).cloned() else {
            return;
        };
        let Some(folders) = self.store.folders.clone() else {
            self.tell(Notice::problem(error::NO_FOLDER_FOR_MATERIALS, ""));
            return;
        };
        match library::keep_material(&folders, &material) {
            Ok(_) => {
                self.list_kept_materials();
                self.tell(Notice::done(format!(
                    "kept {} for every recipe",
                    material.name
                )));
            }
            Err(problem) => self.refuse(error::MATERIAL_NOT_KEPT, &problem),
        }
    }

    /// Takes an own material out of the recipe, unless something in it is made of it.
    pub(in crate::window) fn drop_material(&mut self, id: &str) {
        let in_plan = self.project.heap.plan.events.iter().any(|event| {
            matches!(&event.operation, Operation::Add { mix, .. } if mix.ingredients.iter().any(|row| row.material == id))
        });
        let in_mix = self.project.mix.ingredients.iter();
        if in_plan || in_mix.into_iter().any(|row| row.material == id) {
            self.tell(Notice::problem(error::MATERIAL_IN_USE, ""));
            return;
        }
        self.project.own_materials.retain(|own| own.id != id);
        if self.record_or_revert(change::REMOVED_MATERIAL)
            && let Some(drawer) = &mut self.state.drawer
        {
            drawer.chosen = None;
        }
    }

    /// The row as the catalogue has it.
    pub(in crate::window) fn as_listed(&mut self, row: usize) {
        if let Some(ingredient) = self.project.mix.ingredients.get_mut(row) {
            ingredient.condition = crate::material::Condition::default();
            self.record_or_revert(change::STATE_AS_LISTED);
        }
    }
}
