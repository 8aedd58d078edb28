// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "core/plan_terms.h"

#include "core/cut_judge.h"
#include "mesh/mass.h"
#include "mesh/plane_cut.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>

namespace quoin::core {

namespace {

/// Cuts a cell as the plan says and judges each face on the way.
Status judgeFaces(const CutJudge& judge, const mesh::Mesh& cell, const CutPlan& plan, int node, PlanTerms& out,
                  const Context& context)
{
    if (node < 0 || cell.empty())
        return Done{};
    if (context.cancelled())
        return Problem{Reason::Cancelled, "cancelled while judging cuts", {}, {}, {}};
    const CutPlan::Node& at = plan.nodes[static_cast<std::size_t>(node)];
    const auto section = mesh::sectionByPlane(cell, at.plane);
    if (!section)
        return section.problem();
    // A plane that only parts bodies makes no face.
    if (mesh::area(*section) > 0)
        out.cuts[static_cast<std::size_t>(node)] = judge.ofFace(cell, at.plane, *section);
    if (at.below < 0 && at.above < 0)
        return Done{};
    mesh::CutOptions options;
    options.label = static_cast<mesh::Label>(node) + 1;
    auto halves = mesh::cutByPlane(cell, at.plane, options);
    if (!halves)
        return halves.problem();
    if (const Status below = judgeFaces(judge, halves->below, plan, at.below, out, context); !below)
        return below;
    return judgeFaces(judge, halves->above, plan, at.above, out, context);
}

} // namespace

Result<PlanTerms> judgePlan(const CutJudge& judge, const mesh::Mesh& part, const CutPlan& plan,
                            const std::vector<Piece>& pieces, const Context& context)
{
    PlanTerms out;
    out.judged = true;
    out.cuts.resize(plan.nodes.size());
    if (!plan.empty())
        if (const Status done = judgeFaces(judge, part, plan, 0, out, context); !done)
            return done.problem();
    std::vector<mesh::Plane> planes;
    for (const CutPlan::Node& node : plan.nodes)
        planes.push_back(node.plane);
    // A node whose plane misses its cell is no cut.
    const auto cuts = [&](int node) { return out.cuts[static_cast<std::size_t>(node)].area > 0; };
    for (std::size_t i = 0; i < planes.size(); ++i)
        if (cuts(static_cast<int>(i)))
            out.cuts[i].symmetry = judge.symmetry(planes[i], planes);
    double total = 0;
    std::vector<double> volumes;
    for (const Piece& piece : pieces) {
        volumes.push_back(std::abs(mesh::volume(piece.mesh)));
        total += volumes.back();
    }
    for (std::size_t i = 0; i < pieces.size(); ++i) {
        const mesh::Vec3 down = pieces[i].pose.printFromAssembled.rigidInverse().direction({0, 0, -1});
        CutTerms own;
        own.support = judge.support(pieces[i].mesh, down);
        own.balance = CutJudge::balance(volumes[i], total, static_cast<int>(pieces.size()));
        const Path& path = pieces[i].path;
        const auto last = std::find_if(path.rbegin(), path.rend(), [&](const Step& step) { return cuts(step.node); });
        if (path.empty())
            out.total += own;
        else
            out.cuts[static_cast<std::size_t>(last != path.rend() ? last->node : path.back().node)] += own;
    }
    for (const CutTerms& cut : out.cuts)
        out.total += cut;
    return out;
}

TermTable termTable(const PlanTerms& terms, const CutWeights& weights)
{
    TermTable table;
    for (const CutTermKind& kind : cutTermKinds()) {
        std::string brief = kind.key;
        brief[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(brief[0])));
        table.columns.push_back(std::move(brief));
        table.helps.push_back(std::string(kind.name) + ". " + kind.help);
    }
    table.columns.emplace_back("Weighed");
    table.helps.emplace_back("Each term times its weight, all together: what is made as small as possible among ways "
                             "of cutting with the same number of pieces.");
    const auto row = [&](std::string name, int node, const CutTerms& values) {
        TermTable::Row out{std::move(name), node, {}};
        for (const CutTermKind& kind : cutTermKinds())
            out.values.push_back(values.*kind.value);
        out.values.push_back(weighed(values, weights));
        table.rows.push_back(std::move(out));
    };
    for (std::size_t i = 0; i < terms.cuts.size(); ++i)
        row(fmt::format("cut {}", i + 1), static_cast<int>(i), terms.cuts[i]);
    row("all cuts", -1, terms.total);
    TermTable::Row last{"weight", -1, {}};
    for (const CutTermKind& kind : cutTermKinds())
        last.values.push_back(weights.*kind.weight);
    last.values.push_back(0);
    table.rows.push_back(std::move(last));
    return table;
}

} // namespace quoin::core
