// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/load_faults.h"

#include "core/hanging.h"
#include "ui/joint_words.h"
#include "ui/window_words.h"

#include <QRegularExpression>
#include <QStringList>

#include <algorithm>

namespace quoin::ui {

bool LoadFaults::any() const
{
    return !factor.isEmpty() || !gravity.isEmpty() || !held.isEmpty() || !fill.isEmpty() || !glue.isEmpty() ||
           !bolts.isEmpty() || !limit.isEmpty() ||
           std::any_of(forces.begin(), forces.end(), [](const QString& f) { return !f.isEmpty(); });
}

LoadFaults loadFaults(const core::Project& project, const core::LoadCase& load)
{
    const auto said = [&](const core::LoadCase& one) {
        const Status status = core::checkLoadCase(project, one);
        return status ? QString() : sentenceCase(windowWords(status.problem().sentence()));
    };
    const auto alone = [&](auto member) {
        core::LoadCase one;
        one.*member = load.*member;
        return said(one);
    };
    LoadFaults faults{alone(&core::LoadCase::dynamicFactor), alone(&core::LoadCase::gravity),
                      alone(&core::LoadCase::held),          alone(&core::LoadCase::fillShare),
                      alone(&core::LoadCase::glueMpa),       alone(&core::LoadCase::boltClass),
                      alone(&core::LoadCase::safetyLimit),   {}};
    for (const core::ExtraForce& force : load.extra) {
        core::LoadCase one;
        one.extra = {force};
        faults.forces.push_back(said(one));
    }
    return faults;
}

std::optional<std::vector<int>> numbersFrom(const QString& text)
{
    static const QRegularExpression between(QStringLiteral("[\\s,;+]+"));
    std::vector<int> numbers;
    for (const QString& word : text.split(between, Qt::SkipEmptyParts)) {
        bool ok = false;
        const int number = word.toInt(&ok);
        if (!ok)
            return std::nullopt;
        if (std::find(numbers.begin(), numbers.end(), number) == numbers.end())
            numbers.push_back(number);
    }
    std::sort(numbers.begin(), numbers.end());
    return numbers;
}

} // namespace quoin::ui
