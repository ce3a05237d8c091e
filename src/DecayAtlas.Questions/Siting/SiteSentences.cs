namespace DecayAtlas.Questions.Siting;

/// <summary>What has to be said of proposed places.</summary>
internal static class SiteSentences
{
    /// <summary>A choice that gains less than this share more than spread-out places is not worth a model (our choice, no
    /// source).</summary>
    private const double WorthIt = 0.1;

    public static IReadOnlyList<string> Cautions(SiteQuestion question, RegionSet? avoid) =>
    [
        avoid is null
            ? "Nobody said where not to bury (--avoid): protected areas, water, towns, landowners, buried services and access were not "
                + "looked at, and must be before anybody digs."
            : $"Left out are the cells that touch one of the {Counted.Of(avoid.Regions.Count, "polygon")} of {question.Avoid}, and nothing "
                + "else: protected areas that it lacks, landowners, buried services and access were not looked at, and must be before "
                + "anybody digs. Local rules go first.",
    ];

    /// <param name="asIf">The classes that the map takes every place for; missing where it takes none.</param>
    public static IReadOnlyList<string> Of(SiteQuestion question, SitePlan plan, SiteRequest request, string? asIf)
    {
        SiteStep last = plan.Steps[^1];
        string sites = $"{Counted.Of(last.Sites, "site")} of {Counted.Of(question.Burials, "burial")}";
        string mean = plan.Regions is [var only] ? $"The mean of k of {only}"
            : $"The mean of k of {plan.Regions.Count} regions (root mean square)";
        return
        [
            .. asIf is null ? Array.Empty<string>()
                : [$"The map is made {asIf}, and so is all that is said here: k, means and gains are of such places."],
            Invariant($"{mean} is known to ± {Told(plan.Now.Sum)} % (interval of {100 * plan.Level:0.#} %): choice of sites ± ")
                + $"{Told(plan.Now.Model)} %, lots and batches ± {Told(plan.Now.Shared)} % (left as it is: sites of the same "
                + "lots lower none of what lots make, and what new batches lower of the part of batches is not counted), "
                + $"what places are off by ± {Told(plan.Now.Local)} % " + (plan.Now.IsKriged
                    ? "(as kriging of the residuals of existing sites leaves it; new sites lower it only where somebody krigs)."
                    : "(new sites are not taken to lower it: that takes kriging, --kriged)."),
            $"{sites} at the proposed places bring it to ± {Told(last.Chosen)} %, spread over the region to ± {Told(last.Spread)} %, at "
                + $"random to ± {Told(last.AtRandom)} % ({Told(last.AtRandomLower)} to {Told(last.AtRandomUpper)}); with lots and "
                + $"batches left as they are, no number of sites brings it below ± {Told(plan.Now.Floor)} %.",
            .. plan.Now.Sum - last.Chosen < 0.02 * plan.Now.Sum
                ? ["Hardly anything is gained: the floor is what counts. Other lots, or a model that leaves less unexplained, would help "
                    + "more."]
                : last.Spread - last.Chosen < WorthIt * (plan.Now.Sum - last.Chosen)
                    ? ["Places spread over the region gain about as much, and need no model: take those where that is simpler."]
                    : Array.Empty<string>(),
            .. plan.Sites.Count < question.Count
                ? [$"Only {Counted.Of(plan.Sites.Count, "place")} of {question.Count} could be proposed: no others are left, or none "
                    + "would tell anything."] : Array.Empty<string>(),
            .. Places(plan, s => !s.IsApplicable) is { } outside
                ? [$"Outside the area of applicability: {outside}. They are proposed to learn what the model does not know; k and gain "
                    + "told there are guesses."] : Array.Empty<string>(),
            .. Places(plan, s => s.IsHiddenSiteNear) is { } hidden
                ? [$"In one cell of 0.1 degrees with a site whose place is not told: {hidden}. Ask the curator before you go."]
                : Array.Empty<string>(),
            $"Chosen from one cell of each of {plan.Tally.Asked} of {Counted.Of(plan.Tally.Squares, "square")}; left out: "
                + $"{plan.Tally.OutsideApplicability} outside the area of applicability, {plan.Tally.NearSites} nearer than "
                + Invariant($"{question.ApartKilometres:0.###} km to a site, {plan.Tally.Avoided.Values.Sum()} to be avoided")
                + (plan.Tally.Avoided.Count > 0 ? $" ({string.Join(", ", plan.Tally.Avoided.Select(a => $"{a.Key} {a.Value}"))})." : "."),
            Invariant($"Taken for granted: the mean of a new site is off by {Math.Sqrt(request.Noise.OfSite):0.000} in ln k from its ")
                + Invariant($"burials and by {Math.Sqrt(request.Noise.OfBatch):0.000} from a batch that the new sites share, and by what ")
                + "its place is off by; lots are those of the release. Gains are told by members of the model that did not choose.",
        ];

        static string Told(double half) => Invariant($"{SitePlan.PercentOf(half):0.0}");
    }

    private static string? Places(SitePlan plan, Func<ProposedSite, bool> are) =>
        plan.Sites.Where(are).Select(s => Invariant($"{s.Rank}")).ToArray() is { Length: > 0 } ranks ? string.Join(", ", ranks) : null;
}
