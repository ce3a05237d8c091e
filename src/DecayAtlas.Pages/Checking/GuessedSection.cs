namespace DecayAtlas.Pages.Checking;

/// <summary>What the check read otherwise than it was written, and masses that would fit with their decimal sign elsewhere: only the group
/// can say whether that is right. Released numbers and codes alone, since everybody may read the page.</summary>
internal static class GuessedSection
{
    public static Markup Of(PagesInputs inputs, string contributionId, Language words)
    {
        Markup[] masses = [.. Masses(inputs.Data, contributionId, words)];
        PublicFinding[] asked = [.. FindingsOf(inputs, contributionId).Where(guess => guess.Code is FindingCode.KitTyped
            or FindingCode.ThousandsRead or FindingCode.CampaignDays)];
        Markup[] read = [.. asked.GroupBy(guess => guess.Code).Select(same => Markup.Of(
            $"""
            <div class="mend"><p>{words["finding." + same.Key]} <b>{words[$"finding.{same.Key}.mend"]}</b></p>
            <ul>{Places(inputs, contributionId, same, words).Select(place => Markup.Of($"<li>{place}</li>"))}</ul></div>

            """))];
        // a day beside those of the campaign is read as it was written
        bool isGuess = masses.Length > 0 || Array.Exists(asked, one => one.Code != FindingCode.CampaignDays);
        return Markup.If(masses.Length + read.Length > 0,
            $"""
            <section><h2>{words["contribution.guessed"]}</h2><p>{words["contribution.guessed.text" + (isGuess ? "" : ".days")]}</p>
            {Markup.If(masses.Length > 0, $"<div class=\"mend\"><p>{words["contribution.guessed.mass"]}</p><ul>{masses.Select(
                mass => Markup.Of($"<li>{mass}</li>"))}</ul></div>")}
            {read}</section>

            """);
    }

    /// <summary>Words that are none of a list: where they stand, and what to do; <see langword="null"/> where there are none.</summary>
    public static Markup? Words(PagesInputs inputs, string contributionId, Language words)
    {
        string[] places = Places(inputs, contributionId, FindingsOf(inputs, contributionId)
            .Where(guess => guess.Code == FindingCode.WordNotOurs), words);
        return places.Length == 0 ? default(Markup?) : Markup.Of(
            $"""
            <div class="mend"><p>{words["contribution.word-not-ours"]} <b>{words["finding.word-not-ours.mend"]}</b></p>
            <ul>{places.Select(place => Markup.Of($"<li>{place}</li>"))}</ul></div>

            """);
    }

    // each column with its rows
    private static string[] Places(PagesInputs inputs, string contributionId, IEnumerable<PublicFinding> findings, Language words)
    {
        bool isKit = inputs.Guesses.GetValueOrDefault(contributionId)?.IsKit == true;
        return
        [
            .. findings.GroupBy(guess => (guess.Column, guess.OfKit))
                .Select(same => (First: same.First(), Rows: FindingWords.Rows(same.Select(guess => guess.Row), words)))
                .Select(at => isKit ? FindingWords.WhereInKit(at.First, at.Rows, words) : FindingWords.Where(at.First, at.Rows, words)),
        ];
    }

    private static IReadOnlyList<PublicFinding> FindingsOf(PagesInputs inputs, string contributionId) =>
        inputs.Guesses.GetValueOrDefault(contributionId)?.Findings ?? [];

    private static IEnumerable<Markup> Masses(ReleaseData data, string contributionId, Language words)
    {
        Dictionary<string, ReleasedLot> lots = data.LotsOfContribution[contributionId].ToDictionary(lot => lot.LotId);
        foreach (ReleasedBag bag in data.BagsOfContribution[contributionId])
        {
            if (lots.GetValueOrDefault(bag.LotId) is not { HydrolysableFraction: { } hydrolysable } lot
                || (bag.MassBasis == "gross" ? lot.TareGrams : 0) is not { } tare)
            {
                continue;
            }
            foreach (TenfoldMass slip in TenfoldMass.Of(
                tare, lot.LitterMassNominalGrams, hydrolysable, bag.MassInitialGrams, bag.MassFinalGrams))
            {
                yield return words.Say(slip.IsFinal ? "contribution.guessed.last" : "contribution.guessed.first", bag.BagId,
                    words.Number(slip.Found, "0.00"), words.Number(slip.Meant, "0.00"));
            }
        }
    }
}
