namespace DecayAtlas.Demo.Scoring;

/// <summary>Names one record of one contribution; the type is that of <see cref="PlantedFault.RecordType"/>.</summary>
public readonly record struct DemoRecord(string ContributionId, string RecordType, string RecordId);

/// <summary>One flag that a run raised, or one finding for which intake refused a contribution.</summary>
/// <param name="ContributionId">The contribution.</param>
/// <param name="RecordType">bag, burial, site, lot or contribution.</param>
/// <param name="RecordId">The id in the contribution's tables.</param>
/// <param name="Code">Flag or finding code.</param>
/// <param name="IsSerious">Whether it makes the record suspect or rejected; false for a note.</param>
public sealed record RaisedFlag(string ContributionId, string RecordType, string RecordId, string Code, bool IsSerious)
{
    public DemoRecord Record => new(ContributionId, RecordType, RecordId);
}

/// <summary>How many planted faults of one code or family were found, and how many flags of it were raised where none was
/// foreseen.</summary>
/// <param name="Name">Code or family.</param>
/// <param name="Planted">Faults planted for their own sake.</param>
/// <param name="Found">Those flagged with the expected code on the expected record.</param>
/// <param name="FalseFlags">Flags, notes too, that neither a fault nor a consequence of one accounts for.</param>
public sealed record FaultRecall(string Name, int Planted, int Found, int FalseFlags)
{
    /// <summary>Share found (1); missing where none was planted.</summary>
    public double? Share => Planted > 0 ? (double)Found / Planted : null;
}

/// <summary>How many planted faults of one code and size were found.</summary>
public sealed record SizedRecall(string Code, double Size, string SizeOf, int Planted, int Found);

/// <summary>Planted faults held against the flags of a run.</summary>
/// <param name="Planted">Faults planted for their own sake.</param>
/// <param name="Found">Those of them that were flagged with the expected code on the expected record.</param>
/// <param name="ByCode">The same for each code, in ordinal order.</param>
/// <param name="ByFamily">The same for each family, in ordinal order.</param>
/// <param name="BySize">The same for each size of the faults that come in sizes.</param>
/// <param name="Missed">Those that were not found.</param>
/// <param name="SoundRecords">Records with no planted fault and no consequence of one.</param>
/// <param name="SoundRecordsFlagged">Those of them with a serious flag.</param>
/// <param name="FalseAlarms">The serious flags on sound records.</param>
/// <param name="Unforeseen">Serious flags on faulty records whose code was not foreseen there.</param>
public sealed record FaultScore(
    int Planted,
    int Found,
    IReadOnlyList<FaultRecall> ByCode,
    IReadOnlyList<FaultRecall> ByFamily,
    IReadOnlyList<SizedRecall> BySize,
    IReadOnlyList<PlantedFault> Missed,
    int SoundRecords,
    int SoundRecordsFlagged,
    IReadOnlyList<RaisedFlag> FalseAlarms,
    IReadOnlyList<RaisedFlag> Unforeseen)
{
    /// <summary>The family of findings that refuse a contribution at the door.</summary>
    public const string IntakeFamily = "intake";

    /// <summary>Scores a run. Consequences of a planted fault are foreseen, but need not be found.</summary>
    /// <param name="planted">The list of <see cref="PlantedFaults.Load"/>.</param>
    /// <param name="raised">Every flag of the run, and the findings of the quarantined contributions.</param>
    /// <param name="records">Every record that could have been flagged.</param>
    /// <param name="familyOf">The family of a code.</param>
    public static FaultScore Of(
        IReadOnlyList<PlantedFault> planted, IEnumerable<RaisedFlag> raised, IEnumerable<DemoRecord> records, Func<string, string> familyOf)
    {
        ArgumentNullException.ThrowIfNull(planted);
        ArgumentNullException.ThrowIfNull(raised);
        ArgumentNullException.ThrowIfNull(records);
        ArgumentNullException.ThrowIfNull(familyOf);

        HashSet<(DemoRecord Record, string Code)> foreseen = [.. planted.Select(fault => (RecordOf(fault), fault.Code))];
        HashSet<DemoRecord> faulty = [.. planted.Select(RecordOf)];
        HashSet<(DemoRecord Record, string Code)> flagged = [];
        List<RaisedFlag> falseAlarms = [], unforeseen = [];
        List<string> falseCodes = [];
        foreach (RaisedFlag flag in raised)
        {
            // findings of intake are not told apart from those that follow from them: the contribution is refused for any
            if (flagged.Add((flag.Record, flag.Code)) && !foreseen.Contains((flag.Record, flag.Code))
                && familyOf(flag.Code) != IntakeFamily)
            {
                falseCodes.Add(flag.Code);
            }

            if (!flag.IsSerious || foreseen.Contains((flag.Record, flag.Code))) continue;
            (faulty.Contains(flag.Record) ? unforeseen : falseAlarms).Add(flag);
        }

        PlantedFault[] own = [.. planted.Where(fault => fault.FollowsFrom is null)];
        bool IsFound(PlantedFault fault) => flagged.Contains((RecordOf(fault), fault.Code));
        FaultRecall[] Recalls(Func<string, string> name) =>
        [
            .. own.Select(f => name(f.Code)).Concat(falseCodes.Select(name)).Distinct().Order(StringComparer.Ordinal)
                .Select(group => new FaultRecall(
                group, own.Count(f => name(f.Code) == group), own.Count(f => name(f.Code) == group && IsFound(f)),
                falseCodes.Count(c => name(c) == group))),
        ];

        HashSet<DemoRecord> sound = [.. records.Where(record => !faulty.Contains(record))];
        return new FaultScore(
            own.Length,
            own.Count(IsFound),
            Recalls(code => code),
            Recalls(familyOf),
            [.. own.Where(f => f.Size is not null).GroupBy(f => (f.Code, Size: f.Size!.Value, f.SizeOf))
                .OrderBy(g => g.Key.Code, StringComparer.Ordinal).ThenBy(g => g.Key.Size)
                .Select(g => new SizedRecall(g.Key.Code, g.Key.Size, g.Key.SizeOf!, g.Count(), g.Count(IsFound)))],
            [.. own.Where(fault => !IsFound(fault))],
            sound.Count,
            falseAlarms.Select(flag => flag.Record).Where(sound.Contains).Distinct().Count(),
            falseAlarms,
            unforeseen);
    }

    private static DemoRecord RecordOf(PlantedFault fault) => new(fault.ContributionId, fault.RecordType, fault.RecordId);
}
