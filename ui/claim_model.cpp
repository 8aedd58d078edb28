// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#include "ui/claim_model.h"

#include "core/proof_groups.h"
#include "mesh/place.h"

#include <algorithm>
#include <map>

namespace quoin::ui {

namespace {

/// Internal ids: of a group 0, of a claim its group's row and one.
constexpr quintptr groupId = 0;

QString withUnit(const std::string& number, const std::string& unit)
{
    const QString text = QString::fromStdString(number);
    return unit.empty() ? text : text + " " + QString::fromStdString(unit);
}

QString measuredText(const core::Claim& claim)
{
    return withUnit(core::claimNumber(claim.measured), claim.unit);
}

QString wantedText(const core::Claim& claim)
{
    return QString::fromStdString(core::relationSign(claim.relation)) + " " +
           withUnit(core::claimNumber(claim.limit), claim.unit);
}

} // namespace

void ClaimModel::setProofs(std::vector<NamedProof> proofs)
{
    beginResetModel();
    m_proofs = std::move(proofs);
    m_claims.clear();
    for (std::size_t i = 0; i < m_proofs.size(); ++i)
        for (const core::Claim& c : m_proofs[i].proof.claims)
            m_claims.push_back(
                {&c, i,
                 QString("%1 %2 %3 %4 %5")
                     .arg(m_proofs[i].name, QString::fromStdString(c.subject), QString::fromStdString(c.text),
                          QString::fromStdString(c.id), c.holds ? tr("holds") : tr("fails"))
                     .toLower()});
    regroup();
    endResetModel();
}

void ClaimModel::setFilter(const QString& words, bool failedOnly)
{
    beginResetModel();
    m_filter = words.toLower().split(' ', Qt::SkipEmptyParts);
    m_failedOnly = failedOnly;
    regroup();
    endResetModel();
}

bool ClaimModel::isShown(const Entry& entry) const
{
    return !(m_failedOnly && entry.claim->holds) &&
           std::all_of(m_filter.begin(), m_filter.end(), [&](const QString& w) { return entry.words.contains(w); });
}

void ClaimModel::regroup()
{
    std::vector<const core::Claim*> shown;
    std::map<const core::Claim*, std::size_t> place;
    for (std::size_t i = 0; i < m_claims.size(); ++i)
        if (isShown(m_claims[i])) {
            shown.push_back(m_claims[i].claim);
            place[m_claims[i].claim] = i;
        }
    m_groups.clear();
    for (const core::ClaimGroup& g : core::groupsOf(shown)) {
        Group group;
        group.heading = QString::fromStdString(g.heading);
        group.chapter = QString::fromUtf8(g.chapter.data(), static_cast<qsizetype>(g.chapter.size()));
        group.tightest = g.tightest;
        group.failed = g.failed;
        for (const core::Claim* c : g.claims)
            group.claims.push_back(place[c]);
        std::stable_partition(group.claims.begin(), group.claims.end(),
                              [&](std::size_t i) { return !m_claims[i].claim->holds; });
        m_groups.push_back(std::move(group));
    }
    std::stable_partition(m_groups.begin(), m_groups.end(), [](const Group& g) { return g.failed > 0; });
}

int ClaimModel::shownClaims() const
{
    std::size_t count = 0;
    for (const Group& g : m_groups)
        count += g.claims.size();
    return static_cast<int>(count);
}

QModelIndex ClaimModel::index(int row, int column, const QModelIndex& parent) const
{
    if (!hasIndex(row, column, parent))
        return {};
    return createIndex(row, column, parent.isValid() ? static_cast<quintptr>(parent.row()) + 1 : groupId);
}

QModelIndex ClaimModel::parent(const QModelIndex& child) const
{
    if (!child.isValid() || child.internalId() == groupId)
        return {};
    return createIndex(static_cast<int>(child.internalId()) - 1, 0, groupId);
}

int ClaimModel::rowCount(const QModelIndex& parent) const
{
    if (!parent.isValid())
        return static_cast<int>(m_groups.size());
    if (parent.internalId() != groupId || parent.column() != 0)
        return 0;
    return static_cast<int>(m_groups[static_cast<std::size_t>(parent.row())].claims.size());
}

int ClaimModel::columnCount(const QModelIndex&) const
{
    return ColumnCount;
}

QVariant ClaimModel::groupText(const Group& group, int column) const
{
    const int count = static_cast<int>(group.claims.size());
    switch (column) {
    case Checked:
        return group.heading;
    case Of:
        return group.chapter + ": " + QString::fromStdString(mesh::counted(group.claims.size(), "claim"));
    case Measured:
        return count > 1 && group.tightest->relation != "=" ? tr("tightest %1").arg(measuredText(*group.tightest))
                                                            : measuredText(*group.tightest);
    case Wanted:
        return wantedText(*group.tightest);
    case Verdict:
        return group.failed > 0 ? tr("✗ %1 of %2 fail").arg(group.failed).arg(count) : tr("✓ holds");
    default:
        return {};
    }
}

QVariant ClaimModel::claimText(const Entry& entry, int column) const
{
    const core::Claim& c = *entry.claim;
    const QString subject = QString::fromStdString(c.subject);
    switch (column) {
    case Checked:
        return QString::fromStdString(c.text);
    case Of:
        return m_proofs.size() > 1 ? m_proofs[entry.proof].name + ": " + subject : subject;
    case Measured:
        return measuredText(c);
    case Wanted:
        return wantedText(c);
    case Verdict:
        return c.holds ? tr("✓ holds") : tr("✗ fails");
    default:
        return {};
    }
}

QVariant ClaimModel::data(const QModelIndex& index, int role) const
{
    if (!index.isValid())
        return {};
    const bool isGroup = index.internalId() == groupId;
    const Group& group = m_groups[isGroup ? static_cast<std::size_t>(index.row()) : index.internalId() - 1];
    const Entry* entry = isGroup ? nullptr : &m_claims[group.claims[static_cast<std::size_t>(index.row())]];
    switch (role) {
    case Qt::DisplayRole:
    case Qt::ToolTipRole: // columns may be too narrow for their words
        return isGroup ? groupText(group, index.column()) : claimText(*entry, index.column());
    case Qt::TextAlignmentRole:
        if (index.column() == Measured || index.column() == Wanted)
            return QVariant(Qt::AlignRight | Qt::AlignVCenter);
        return {};
    case HoldsRole:
        return isGroup ? group.failed == 0 : entry->claim->holds;
    default:
        return {};
    }
}

QVariant ClaimModel::headerData(int section, Qt::Orientation orientation, int role) const
{
    if (orientation != Qt::Horizontal || role != Qt::DisplayRole)
        return {};
    switch (section) {
    case Checked:
        return tr("What was checked");
    case Of:
        return tr("Of");
    case Measured:
        return tr("Measured");
    case Wanted:
        return tr("Wanted");
    case Verdict:
        return tr("Verdict");
    default:
        return {};
    }
}

} // namespace quoin::ui
