using System.Text;
using MathNet.Numerics.Random;

namespace DecayAtlas.Demo.Scenarios;

/// <summary>What is planted.</summary>
public enum FaultSet
{
    /// <summary>Every kind of fault, a few of each, and broken contributions.</summary>
    Every,

    /// <summary>Only faults that show among others, in steps of size, to see from which size on they are found.</summary>
    Graded,
}

/// <summary>Where the scenario goes and what it grows from.</summary>
/// <param name="Folder">The scenario's folder; made if absent, replaced if it holds a scenario of another seed or version.</param>
/// <param name="Seed">The same seed gives the same bytes.</param>
/// <param name="Faults">What is planted.</param>
public sealed record DemoOptions(string Folder, int Seed, FaultSet Faults = FaultSet.Every);

/// <summary>
/// Makes the invented scenario: islands with soils and climate, groups that bury litter bags on them, and faults whose
/// whereabouts are known. Everything a run of the pipeline needs, and the truth to hold its results against.
/// </summary>
public static class Scenario
{
    /// <summary>Raised whenever the same seed would make other files.</summary>
    public const int GeneratorVersion = 8;

    // Samples draw from numbers of their own, so that they move no burial.
    private const int SampleSeed = 0x5A3B1E;

    /// <summary>
    /// Writes <c>inbox/</c>, <c>grids/</c>, <c>grids.yaml</c>, <c>countries.geojson</c>, <c>vocabulary.yaml</c>, <c>truth/</c> and
    /// <c>scenario.json</c>.
    /// The folder appears whole or not at all. Where it already holds this seed and version, nothing is done.
    /// </summary>
    /// <param name="options">Folder and seed.</param>
    /// <param name="progress">Told the step, how many are done, and of how many.</param>
    /// <exception cref="DemoException">The folder holds something else, or the disk refuses.</exception>
    public static ScenarioSummary Make(DemoOptions options, Action<string, int, int>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(options);
        string folder = Path.TrimEndingDirectorySeparator(Path.GetFullPath(options.Folder));
        ScenarioSummary? found = ScenarioSummary.Find(folder);
        if (found is not null && found.Seed == options.Seed && found.Faults == options.Faults && found.GeneratorVersion == GeneratorVersion)
            return found with { AlreadyThere = true };

        if (StrangerIn(folder, found is not null) is { } stranger)
        {
            throw new DemoException($"{folder} holds {stranger}, which is no part of a demo scenario and would be lost; name another "
                + "folder or move it away.");
        }

        string fresh = folder + ".decayatlas-demo-being-made";
        try
        {
            Discard(fresh);
            Directory.CreateDirectory(fresh);
            ScenarioSummary summary = Write(fresh, options.Seed, options.Faults, progress);
            Discard(folder);
            Directory.Move(fresh, folder);
            return summary;
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException or Grids.GridException)
        {
            try
            {
                Discard(fresh);
            }
            catch (Exception second) when (second is IOException or UnauthorizedAccessException)
            {
                // The first failure is the one to tell; the next run clears what is left here.
            }

            throw new DemoException($"The demo scenario cannot be written to {folder}: {fault.Message}", fault);
        }
    }

    private static readonly string[] OwnEntries = ["inbox", "grids", "grids.yaml", "countries.geojson", LocalWordsOutput.FileName, "truth",
        ScenarioSummary.FileName];

    /// <summary>The first thing in the way that the generator did not make; null where there is none.</summary>
    private static string? StrangerIn(string folder, bool isScenario)
    {
        if (File.Exists(folder)) return "a file of that name";
        if (!Directory.Exists(folder)) return null;
        return Directory.EnumerateFileSystemEntries(folder).Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)
            .FirstOrDefault(name => !isScenario || !OwnEntries.Contains(name, StringComparer.Ordinal));
    }

    private static void Discard(string folder)
    {
        if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
    }

    /// <summary>Burials whose fast litter lay short of its plateau, those near the limit among them: weighing, and water that nobody
    /// tells of, may show them on either side.</summary>
    private static IEnumerable<PlantedFault> ShortOfPlateau(IEnumerable<ContributionDraft> contributions) =>
        from contribution in contributions
        from burial in contribution.Burials
        where burial.TruePlateauShare < 0.99
        select new PlantedFault(contribution.Id, "burial", burial.BurialId, "plateau-not-reached",
            $"the fast litter has reached {burial.TruePlateauShare:0.00} of its plateau")
        { FollowsFrom = "plateau" };

    private static readonly string[] ShownNearALimit = ["slow-loss-at-plateau", "fast-loss-beyond-hydrolysable", "replicate-outlier"];

    /// <summary>Burials that lost nearly all they can, or hardly anything: chance may show them beyond a
    /// limit, and among their neighbours they stand out.</summary>
    private static IEnumerable<PlantedFault> NearALimit(IEnumerable<ContributionDraft> contributions) =>
        from contribution in contributions
        from burial in contribution.Burials
        where burial.Slow.Days is >= 60 and <= 120 && !BurialMaker.LooksSound(burial)
        from code in ShownNearALimit
        select new PlantedFault(contribution.Id, "burial", burial.BurialId, code, "lost nearly all that it can, or hardly anything")
        { FollowsFrom = "near-a-limit" };

    private static ScenarioSummary Write(string folder, int seed, FaultSet set, Action<string, int, int>? progress)
    {
        const int steps = 6;
        progress?.Invoke("raising the islands", 0, steps);
        InventedWorld world = new(seed);
        Countries countries = new(seed);
        DecayResponse response = new(world);
        StandardLots lots = new(seed);

        progress?.Invoke("burying the bags", 1, steps);
        // A named generator: its numbers stay the same in every version of .NET.
        Xoshiro256StarStar random = new(seed, threadSafe: false);
        List<ContributionDraft> contributions = new CampaignMaker(world, countries, response, lots,
            new SampleMaker(world, new Xoshiro256StarStar(seed ^ SampleSeed, threadSafe: false)), random).MakeAll();
        List<ContributionDraft> experiments = new ExperimentMaker(world, countries, response, lots, seed).MakeAll();
        List<ContributionDraft> summaries = new SummaryMaker(world, countries, response, lots, seed).MakeAll();

        PlantedFault[] nearALimit = [.. NearALimit(contributions.Concat(experiments))];

        progress?.Invoke("planting the faults", 2, steps);
        FaultPlot plot = new(contributions, random);
        if (set == FaultSet.Graded)
        {
            new StatisticalFaults(plot).PlantGraded();
        }
        else
        {
            // Place first: its faults are the most particular about where they can go.
            new PlaceFaults(plot, world, countries).Plant();
            new CopyFaults(plot).Plant();
            new MassFaults(plot).Plant();
            new ProtocolFaults(plot).Plant();
            new StatisticalFaults(plot).Plant();
            // last, so that all other faults stay where they are
            PlaceFaults.PlantStrangeWords(plot);
        }

        progress?.Invoke("filling the inbox", 3, steps);
        string inbox = Path.Combine(folder, "inbox");
        Directory.CreateDirectory(inbox);
        // faults are planted in the campaign alone: an experiment shows what its design shows
        List<ContributionDraft> sent = [.. contributions, .. experiments, .. summaries];
        foreach (ContributionDraft contribution in sent)
        {
            SortedDictionary<string, string> texts = ContributionFiles.TextsOf(contribution);
            if (contribution.AsZip) File.WriteAllBytes(Path.Combine(inbox, contribution.Id + ".zip"), ContributionFiles.Zip(texts));
            else ContributionFiles.WriteFolder(Path.Combine(inbox, contribution.Id), texts);
        }

        IReadOnlyList<PlantedFault> broken = set == FaultSet.Graded ? [] : BrokenContributions.Write(contributions, inbox);

        progress?.Invoke("drawing the grids", 4, steps);
        GridOutput.Write(world, folder);
        File.WriteAllText(Path.Combine(folder, "countries.geojson"), countries.GeoJson(world.Elevation), new UTF8Encoding(false));

        LocalWordsOutput.Write(folder);

        progress?.Invoke("noting the truth", 5, steps);
        List<PlantedFault> faults =
            [.. plot.Faults.Concat(broken).Concat(Unspoken(contributions)).Concat(ExperimentMaker.Consequences(experiments))
                .Concat(ShortOfPlateau(sent)).Concat(nearALimit)
                .OrderBy(f => f.ContributionId, StringComparer.Ordinal).ThenBy(f => f.RecordType, StringComparer.Ordinal)
                .ThenBy(f => f.RecordId, StringComparer.Ordinal).ThenBy(f => f.Code, StringComparer.Ordinal)];
        SiteTruth[] sites = [.. sent.SelectMany(c => c.Sites, SiteTruth.Of).Distinct()];
        TruthOutput.Write(folder, world, response, lots, faults, sites, experiments);

        ScenarioSummary summary = new()
        {
            GeneratorVersion = GeneratorVersion,
            Seed = seed,
            Faults = set,
            SoundContributions = sent.Count,
            BrokenContributions = broken.Count,
            Sites = sites.Length,
            Burials = sent.Sum(c => c.Burials.Count),
            Bags = sent.Sum(c => c.Bags.Count()),
            Grids = GridOutput.Count,
            LandCells = world.Elevation.Values.Count(height => !double.IsNaN(height)),
            PlantedFaults = faults.Count(f => f.FollowsFrom is null),
            ConsequentFaults = faults.Count(f => f.FollowsFrom is not null),
        };
        summary.Save(folder);
        progress?.Invoke("done", steps, steps);
        return summary;
    }

    /// <summary>The bags of groups that do not say what they did to the litter before its first weighing.</summary>
    private static IEnumerable<PlantedFault> Unspoken(IEnumerable<ContributionDraft> contributions) =>
        from contribution in contributions
        from bag in contribution.Bags
        where bag.DryingInitial.Length == 0
        select new PlantedFault(contribution.Id, "bag", bag.BagId, "initial-water-unstated",
            "what was done to the litter before the first weighing was not sent");
}
