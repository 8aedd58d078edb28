// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/proof_evidence.h"

#include <fmt/format.h>

namespace quoin::core {

void estimateStrength(const Evidence& evidence, Proof& proof)
{
    StrengthEstimate& estimate = proof.strength;
    estimate.load = evidence.project.load;
    Project asRead = evidence.project;
    for (Piece& piece : asRead.pieces) {
        piece.mesh = evidence.meshOf(piece.number);
        if (piece.mesh.triangles.empty()) {
            estimate.whyNot = fmt::format("{} can't be read, so its weight isn't known", evidence.nameOf(piece.number));
            return;
        }
    }
    auto report = strengthOf(asRead);
    if (!report) {
        const Problem& p = report.problem();
        estimate.whyNot = p.remedy.empty() ? p.what + "." : p.what + ". " + p.remedy;
        return;
    }
    estimate.report = std::move(*report);
    estimate.report->notes.push_back(
        {Note::Severity::Info, "Weights are those of the piece files; loose parts and bought hardware are not weighed.",
         ""});
}

} // namespace quoin::core
