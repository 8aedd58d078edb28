// SPDX-FileCopyrightText: Quoin contributors
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once

#include "core/proof.h"

#include <QAbstractItemModel>
#include <QString>
#include <QStringList>

#include <vector>

namespace quoin::ui {

/// One proof's claims and whose they are.
struct NamedProof {
    QString name; ///< the part's
    core::Proof proof;
};

/// The claims of proofs as a tree for a view: a line a kind of claim, its claims below it, failed ones first on both
/// floors. A filter keeps the claims whose words hold all of its words. Thousands of claims cost no more than the rows
/// that are looked at.
class ClaimModel : public QAbstractItemModel {
    Q_OBJECT
public:
    enum Column { Checked, Of, Measured, Wanted, Verdict, ColumnCount };
    enum Role {
        HoldsRole = Qt::UserRole ///< bool: the claim, or every claim of the group, holds
    };

    using QAbstractItemModel::QAbstractItemModel;

    /// With several proofs, each claim names its part.
    void setProofs(std::vector<NamedProof> proofs);
    void setFilter(const QString& words, bool failedOnly);
    int shownClaims() const;
    int allClaims() const { return static_cast<int>(m_claims.size()); }

    QModelIndex index(int row, int column, const QModelIndex& parent = {}) const override;
    QModelIndex parent(const QModelIndex& child) const override;
    int rowCount(const QModelIndex& parent = {}) const override;
    int columnCount(const QModelIndex& parent = {}) const override;
    QVariant data(const QModelIndex& index, int role = Qt::DisplayRole) const override;
    QVariant headerData(int section, Qt::Orientation orientation, int role) const override;

private:
    struct Entry {
        const core::Claim* claim;
        std::size_t proof;
        QString words; ///< lower case, for the filter
    };
    struct Group {
        QString heading, chapter;
        const core::Claim* tightest = nullptr;
        std::vector<std::size_t> claims; ///< indices into m_claims, failed first
        std::size_t failed = 0;
    };

    void regroup();
    bool isShown(const Entry& entry) const;
    QVariant groupText(const Group& group, int column) const;
    QVariant claimText(const Entry& entry, int column) const;

    std::vector<NamedProof> m_proofs;
    std::vector<Entry> m_claims;
    std::vector<Group> m_groups; ///< as shown
    QStringList m_filter;
    bool m_failedOnly = false;
};

} // namespace quoin::ui
