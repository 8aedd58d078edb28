// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/strength.h"
#include "ui/bench.h"

#include <memory>
#include <optional>

namespace quoin::ui {

class JointsPanel;
class PickTool;
class StrengthPanel;
class ViewController;

/// Strength of the joints: reckoned in the background whenever joints or load change, shown in the lists and in the
/// view; the load as the maker says it, with places picked in the view.
class StrengthController : public QObject {
    Q_OBJECT
public:
    StrengthController(Bench& bench, StrengthPanel& panel, JointsPanel& joints, ViewController& view, QObject* parent);
    ~StrengthController() override;

    /// Whether the place of a force is being picked in the view.
    bool picking() const { return m_pick != nullptr; }

private:
    void follow();
    void showLoad();
    void ask(const core::LoadCase& load);
    void show(const core::RealisedPtr& of, const core::LoadCase& load, const Result<core::StrengthReport>& report);
    void showNone(const QString& why);
    void showInView(std::shared_ptr<const SafetyShown> safety);
    void setLoad(const core::LoadCase& load, const QString& name, const QString& mergeKey);
    void pick(int force);
    void endPick();
    void picked(int force, mesh::Vec3 scenePoint, std::size_t body);

    Bench& m_bench;
    StrengthPanel& m_panel;
    JointsPanel& m_joints;
    ViewController& m_view;
    Latest m_strength;
    core::RealisedPtr m_of; ///< what is shown, or asked for
    std::unique_ptr<PickTool> m_pick;
};

} // namespace quoin::ui
