// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/joint.h"

namespace quoin::core {

const char* kindName(JointForm::Kind kind)
{
    switch (kind) {
    case JointForm::Kind::Dowel:
        return "dowel";
    case JointForm::Kind::Screw:
        return "screw";
    case JointForm::Kind::Stud:
        return "stud";
    case JointForm::Kind::Key:
        return "key";
    case JointForm::Kind::Dovetail:
        return "dovetail";
    case JointForm::Kind::DrawBolt:
        return "draw bolt";
    case JointForm::Kind::ClockingKey:
        return "clocking key";
    }
    return "";
}

std::optional<JointForm::Kind> kindFromName(std::string_view name)
{
    for (const JointForm::Kind kind : allJointKinds)
        if (name == kindName(kind))
            return kind;
    return std::nullopt;
}

bool liesAlongFace(const JointForm& form)
{
    return form.kind == JointForm::Kind::Dovetail || form.kind == JointForm::Kind::ClockingKey;
}

bool opensOutside(const JointForm& form)
{
    return liesAlongFace(form) || form.kind == JointForm::Kind::DrawBolt;
}

bool goesInLast(const JointForm& form)
{
    return form.kind == JointForm::Kind::DrawBolt || form.kind == JointForm::Kind::ClockingKey;
}

JointForm dowelForm(mesh::Vec2 at, double diameterMm, double depthMm, bool keyed, double angle)
{
    JointForm form;
    form.at = at;
    form.diameterMm = diameterMm;
    form.depthMm = depthMm;
    form.keyed = keyed;
    form.angle = angle;
    return form;
}

FitProcess fitProcessOf(const JointForm& form)
{
    switch (form.kind) {
    case JointForm::Kind::Dowel:
        return form.rod == JointForm::Rod::Printed ? FitProcess::Dowel : FitProcess::Rod;
    case JointForm::Kind::Screw:
    case JointForm::Kind::Stud:
        return FitProcess::Thread;
    case JointForm::Kind::Key:
    case JointForm::Kind::Dovetail:
    case JointForm::Kind::DrawBolt:
    case JointForm::Kind::ClockingKey:
        return FitProcess::Key;
    }
    return FitProcess::Dowel;
}

std::size_t printedPartCount(const JointForm& form)
{
    switch (form.kind) {
    case JointForm::Kind::Dowel:
        return form.rod == JointForm::Rod::Printed ? 1 : 0;
    case JointForm::Kind::Stud:
    case JointForm::Kind::ClockingKey:
        return 1;
    case JointForm::Kind::Key:
        return form.integral ? 0 : 1;
    case JointForm::Kind::Screw:
    case JointForm::Kind::Dovetail:
    case JointForm::Kind::DrawBolt:
        return 0;
    }
    return 0;
}

} // namespace quoin::core
