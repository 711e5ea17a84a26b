"""Who may open what: one line for every address of the site. An address that is missing here fails the matrix.

A right is a pair: who may read it (GET), who may write it (every other method). The roles are those of the world in
world.py: `member` owns the roster, plays in the games and may answer the report; the quartermaster is a club mate who
has no part in any of it, so that rights by office and rights by part show apart.
"""

from __future__ import annotations

ORGANISER, UMPIRE, QUARTERMASTER, MEMBER = "organiser", "umpire", "quartermaster", "member"
STRANGER, VISITOR = "stranger", "visitor"  # an organiser of another club; somebody signed out

NOBODY: frozenset[str] = frozenset()
CLUB = frozenset({ORGANISER, UMPIRE, QUARTERMASTER, MEMBER})
SIGNED_IN = CLUB | {STRANGER}
ANYONE = SIGNED_IN | {VISITOR}
RUN = frozenset({ORGANISER})
RULES = frozenset({ORGANISER, UMPIRE})
PART = frozenset({ORGANISER, MEMBER})  # those who have a part in the row, and organisers
PART_OR_OFFICE = frozenset({ORGANISER, UMPIRE, MEMBER})
OPPONENT = frozenset({MEMBER})
SETTLE = frozenset({UMPIRE})
STORES = frozenset({ORGANISER, QUARTERMASTER})
OWNER = frozenset({MEMBER})  # whose the kit is
LEADER = frozenset({MEMBER})  # of a faction
BORROWER = CLUB - OWNER


def rights(
    read: frozenset[str], write: frozenset[str], *names: str
) -> dict[str, tuple[frozenset[str], frozenset[str]]]:
    return dict.fromkeys(names, (read, write))


RIGHTS = {
    # everybody, signed in or not
    **rights(ANYONE, NOBODY, "home", "clubs", "healthz", "api-root", "api-docs", "schema", "api-schema-season"),
    # the public half of a club with public pages
    **rights(
        ANYONE,
        NOBODY,
        "club",
        "seasons",
        "season",
        "round",
        "standings",
        "standings-cell",
        "rosters",
        "ratings",
        "forecast",
    ),
    **rights(ANYONE, NOBODY, "season-format", "round-board", "round-sheet", "bracket", "ladder", "divisions"),
    # one's own account
    **rights(
        SIGNED_IN, SIGNED_IN, "account", "account-name", "tokens", "token-new", "api-me", "api-clubs", "api-tokens"
    ),
    **rights(OPPONENT, OPPONENT, "token-revoke", "api-token"),
    # members read, members write
    **rights(CLUB, CLUB, "game-new", "log", "my-privacy", "leave-club", "night-answer", "api-games", "api-game-log"),
    **rights(
        CLUB, CLUB, "api-attendance", "roster-new", "roster-from-text", "roster-copy", "api-rosters", "api-roster-copy"
    ),
    # members read
    **rights(CLUB, NOBODY, "games", "game", "report", "photo", "members", "nights", "night", "venues", "venue", "book"),
    **rights(CLUB, NOBODY, "rulesets", "ruleset", "ruleset-json", "ruleset-editions", "ruleset-edition"),
    **rights(CLUB, NOBODY, "ruleset-edition-json", "roster", "roster-csv", "roster-json", "season-json"),
    **rights(CLUB, NOBODY, "api-log", "api-member", "api-reports", "api-report", "api-game", "api-editions"),
    **rights(CLUB, NOBODY, "api-edition", "api-season-document", "api-standings", "api-standings-cell"),
    **rights(
        CLUB, NOBODY, "api-roster-strength", "api-ratings", "api-rating", "api-forecast", "api-balance", "balance"
    ),
    **rights(CLUB, OPPONENT, "player"),
    # organisers write what members read
    **rights(CLUB, RUN, "api-club", "api-members", "api-nights", "api-night", "api-venues", "api-venue", "api-tables"),
    **rights(CLUB, RUN, "api-seasons", "api-season", "api-adjustments", "api-entrants", "api-rounds", "api-pairings"),
    # organisers alone
    **rights(RUN, RUN, "club-edit", "invitations", "invite", "invitation-revoke", "member-edit", "member-junior"),
    **rights(
        RUN, RUN, "member-remove", "guest-new", "night-new", "night-edit", "night-cancel", "venue-new", "venue-edit"
    ),
    **rights(RUN, RUN, "table-new", "table-edit", "season-new", "season-import", "season-rules", "season-close"),
    **rights(RUN, RUN, "adjust", "entrant-new", "entrant-edit", "entrant-leave", "entrant-return", "open-play"),
    **rights(RUN, RUN, "season-format-edit", "season-draw-up", "entrant-place", "pairing-postpone"),
    **rights(RUN, RUN, "challenge"),  # the season of the matrix is typed in; in an open one its players may too
    **rights(RUN, RUN, "division-new", "division-edit", "next-season", "fixtures-import"),
    **rights(RUN, RUN, "seeding", "round-draft", "pin-new", "pin-remove"),
    **rights(RUN, RUN, "round-new", "round-edit", "pairing-new", "pairing-mark", "pairing-remove"),
    **rights(RUN, RUN, "api-invitations", "api-invitation", "api-member-junior", "api-member-offices", "api-table"),
    **rights(RUN, RUN, "api-night-cancel", "api-season-close", "api-season-import", "api-entrant-withdraw"),
    **rights(RUN, RUN, "api-entrant-readmit", "api-pairing", "api-pairing-marks"),
    **rights(RUN, RUN, "api-season-draw-up", "api-entrant-place", "api-round-draft", "api-round-publish"),
    **rights(RUN, RUN, "api-seeding", "api-pins", "api-pin", "api-pairing-postpone"),
    **rights(CLUB, RUN, "api-season-format"),
    **rights(CLUB, NOBODY, "api-ladder", "api-bracket"),
    **rights(CLUB, RUN, "api-divisions"),
    **rights(RUN, RUN, "api-division", "api-next-season", "api-fixtures"),
    **rights(RUN, RUN, "api-challenges"),  # as with challenge
    # organisers and umpires
    **rights(RULES, NOBODY, "desk"),
    **rights(RULES, RULES, "ruleset-new", "ruleset-edit", "ruleset-document", "ruleset-retire", "ruleset-bring-back"),
    **rights(CLUB, RULES, "api-rulesets", "api-ruleset"),
    **rights(RULES, RULES, "api-ruleset-retire", "api-ruleset-bring-back"),
    # those who have a part in it
    **rights(PART, PART, "game-edit", "game-cancel", "api-game-cancel", "photo-remove", "member-name"),
    **rights(PART, PART, "api-member-name", "api-member-leave"),
    **rights(CLUB, PART, "api-photo"),
    **rights(PART, PART, "roster-edit", "roster-retire", "roster-bring-back", "roster-import"),
    **rights(PART, PART, "unit-new", "unit-edit", "unit-remove"),
    **rights(CLUB, PART, "api-roster", "api-units", "api-unit"),
    **rights(PART, PART, "api-roster-import", "api-roster-retire", "api-roster-bring-back"),
    **rights(PART_OR_OFFICE, PART_OR_OFFICE, "report-new", "report-correct", "photo-new", "game-rosters", "game-start"),
    **rights(CLUB, PART_OR_OFFICE, "rolls", "rolls-draw", "api-game-photos", "api-game-reports", "api-game-start"),
    **rights(CLUB, PART_OR_OFFICE, "api-game-rosters"),
    **rights(CLUB, PART_OR_OFFICE, "api-report-corrections", "api-report-rolls", "api-report-draw"),
    # the opponent alone
    **rights(OPPONENT, OPPONENT, "report-confirm", "report-dispute", "api-report-confirm", "api-report-dispute"),
    **rights(NOBODY, OPPONENT, "api-member-privacy"),
    # the kit: everybody reads, the owner writes, and those who keep the stores what is the club's
    **rights(CLUB, NOBODY, "kit", "my-kit", "club-kit", "member-kit", "kinds", "kind", "holding", "holding-photo"),
    **rights(CLUB, NOBODY, "loans", "loan", "labels", "enough"),
    **rights(CLUB, CLUB, "kind-new", "holding-new", "kit-import"),
    **rights(CLUB, NOBODY, "kit-file"),
    **rights(STORES, STORES, "kind-edit", "kind-retire", "offer-new"),
    **rights(NOBODY, STORES, "kind-bring-back", "offer-withdraw", "packing-remind", "api-packing-remind"),
    **rights(OWNER, OWNER, "holding-edit", "holding-move", "holding-book", "holding-retire", "loan-lend"),
    **rights(OWNER, OWNER, "holding-photo-new", "holding-photo-remove"),
    **rights(NOBODY, OWNER, "holding-bring-back"),
    **rights(BORROWER, BORROWER, "loan-new"),
    **rights(OWNER, OWNER, "loan-refuse", "loan-back", "loan-lost", "loan-withdraw"),
    **rights(NOBODY, OWNER, "loan-agree", "loan-hand-over", "loan-remind"),
    **rights(CLUB, OWNER, "count"),
    # a night's kit
    **rights(CLUB, NOBODY, "night-kit", "kit-tables", "packing-mine", "roster-kit"),
    **rights(CLUB, CLUB, "carry", "take-part"),
    **rights(STORES | OWNER, NOBODY, "packing"),
    **rights(OWNER, OWNER, "promise-new"),
    **rights(NOBODY, STORES | OWNER, "promise-pack", "promise-unpack", "promise-withdraw"),
    # the same over the API
    **rights(CLUB, NOBODY, "api-spares", "api-enough", "api-cautions", "api-loan", "api-night-kit", "api-roster-kit"),
    **rights(CLUB, NOBODY, "api-shopping"),
    **rights(CLUB, CLUB, "api-kinds", "api-holdings", "api-loans", "api-promises"),
    **rights(CLUB, STORES, "api-kind"),
    **rights(NOBODY, STORES, "api-kind-retire", "api-kind-bring-back", "api-packs", "api-pack"),
    **rights(CLUB, OWNER, "api-holding", "api-movements", "api-shelf"),
    **rights(NOBODY, OWNER, "api-holding-retire", "api-holding-bring-back", "api-holding-photo", "api-lend"),
    **rights(NOBODY, OWNER, "api-loan-agree", "api-loan-hand-over", "api-loan-refuse", "api-loan-withdraw"),
    **rights(NOBODY, OWNER, "api-loan-back", "api-loan-lost", "api-loan-remind"),
    **rights(STORES | OWNER, NOBODY, "api-packing"),
    **rights(NOBODY, CLUB, "api-carry", "api-part", "api-kit-lists"),
    **rights(NOBODY, STORES | OWNER, "api-promise", "api-promise-pack", "api-promise-unpack"),
    # a war: club mates read what its fog shows them, those who lead a faction order
    **rights(ANYONE, NOBODY, "campaigns"),
    **rights(CLUB, NOBODY, "campaign", "campaign-turn", "campaign-plots", "campaign-dice", "campaign-feed"),
    **rights(LEADER, LEADER, "campaign-orders"),
    **rights(NOBODY, CLUB, "campaign-reveal-due"),
    **rights(CLUB, CLUB, "story-new"),
    **rights(SETTLE, NOBODY, "campaign-desk", "campaign-outlook"),
    **rights(SETTLE, SETTLE, "campaign-deadline", "campaign-reveal", "campaign-close", "campaign-end", "ruling-new"),
    **rights(SETTLE, SETTLE, "force-raise"),
    **rights(SETTLE, SETTLE, "battle-book", "battle-postpone", "battle-concede", "battle-tell", "battle-simulate"),
    **rights(SETTLE, SETTLE, "campaign-dice-enter", "correction", "correction-settle"),
    **rights(NOBODY, SETTLE, "campaign-dice-draw"),
    **rights(CLUB, NOBODY, "api-campaigns", "api-campaign", "api-war-now", "api-war-turn", "api-war-dice"),
    **rights(LEADER, LEADER, "api-war-orders"),
    **rights(NOBODY, CLUB, "api-war-due"),
    **rights(CLUB, CLUB, "api-stories"),
    **rights(NOBODY, PART_OR_OFFICE, "api-story"),
    **rights(SETTLE, NOBODY, "api-war-document", "api-war-desk", "api-corrections"),
    **rights(NOBODY, SETTLE, "api-war-deadline", "api-war-reveal", "api-war-close", "api-war-rolls"),
    **rights(NOBODY, SETTLE, "api-war-rolls-draw", "api-battle-book", "api-battle-postpone", "api-battle-concede"),
    **rights(
        NOBODY,
        SETTLE,
        "api-battle-tell",
        "api-rulings",
        "api-force-raise",
        "api-correction-accept",
        "api-correction-settle",
    ),
    **rights(SETTLE, SETTLE, "api-battle-simulation"),
    **rights(PART_OR_OFFICE, PART_OR_OFFICE, "story-hide"),
    # a war that is drawn up: its founder, organisers and umpires; seats and the map of a running one: its umpire
    **rights(RULES, RULES, "campaign-new", "campaign-import", "draft-about", "draft-factions", "draft-start"),
    **rights(RULES, RULES, "draft-rules", "campaign-begin", "force-new", "force-edit", "force-remove"),
    **rights(RULES, RULES, "draft-map", "draft-map-file", "region-new", "region-edit", "region-remove"),
    **rights(RULES, RULES, "road-new", "road-edit", "road-remove"),
    **rights(RULES, NOBODY, "campaign-draft", "draft-forces"),
    **rights(SETTLE, SETTLE, "seats", "map-edit"),
    **rights(SETTLE | LEADER, SETTLE | LEADER, "seat-leave"),
    **rights(CLUB, NOBODY, "campaign-map-json", "campaign-map-graphml", "api-war-graphml"),
    **rights(CLUB, SETTLE, "api-seats", "api-war-map"),
    **rights(NOBODY, SETTLE | LEADER, "api-seat"),
    **rights(NOBODY, RULES, "api-drafts", "api-draft-import", "api-draft-begin", "api-draft-graphml"),
    **rights(RULES, RULES, "api-draft", "api-draft-map", "api-draft-factions", "api-draft-start", "api-draft-rules"),
    **rights(RULES, RULES, "api-draft-forces", "api-draft-force"),
    # the umpire alone
    **rights(SETTLE, SETTLE, "report-settle", "api-report-settle"),
}

# Addresses whose answer depends on something else than who asks, each with the test that looks after it.
ELSEWHERE = {
    "api-nowhere": "tests/test_api_frame.py: leads nowhere, for everybody",
    "club-new": "tests/clubs: whether this site lets people found clubs",
    "join": "tests/clubs: the link itself is the right",
    "join-sign-up": "tests/clubs: the link itself is the right",
}
