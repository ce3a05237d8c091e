namespace DecayAtlas.Pipeline.Steps;

/// <summary>
/// The use of every record, once the flags that a decision overrules are set aside. A record inherits from what it depends on:
/// a bag from its site, a burial from its site and from every one of its bags. For one thread.
/// </summary>
public sealed class Verdicts
{
    private readonly ILookup<RecordKey, Flag> _flags;
    private readonly Dictionary<string, Verdict> _sites;
    private readonly Dictionary<RecordKey, Verdict> _burials = [];

    internal Verdicts(IEnumerable<Flag> flags, IEnumerable<Site> sites)
    {
        _flags = flags.Where(f => f.Severity != Severity.Note).ToLookup(f => f.Record);
        _sites =
            sites.ToDictionary(s => s.Key, s => From(_flags[new RecordKey(s.ContributionId, RecordKind.Site, s.Row.SiteId)]),
                StringComparer.Ordinal);
    }

    public Verdict Of(Site site) => _sites[site.Key];

    public Verdict Of(Bag bag) => Join(From(_flags[bag.Key]), _sites[bag.SiteKey]);

    public Verdict Of(Burial burial)
    {
        // asked for by the summary, the counts and the released row: joined once
        if (!_burials.TryGetValue(burial.Key, out Verdict? verdict))
            _burials[burial.Key] = verdict = burial.Bags.Select(Of).Append(From(_flags[burial.Key])).Aggregate(Verdict.Accepted, Join);
        return verdict;
    }

    public Verdict Of(SentResult result) => Join(From(_flags[result.Key]), _sites[result.SiteKey]);

    /// <summary>Whether the ln k of a burial is averaged, compared and learnt from: it is accepted, and has a k above 0.</summary>
    public bool CountLnRate(Burial burial) => burial.HasPositiveRate && Of(burial).Use == Use.Accepted;

    /// <summary>The same of means that stand for burials.</summary>
    public bool CountLnRate(SentResult result) => result.Index.LnRate.Value is not null && Of(result).Use == Use.Accepted;

    private static Verdict From(IEnumerable<Flag> flags)
    {
        Flag[] own = [.. flags];
        if (own.Length == 0)
            return Verdict.Accepted;
        Use use = own.Any(f => f.Severity == Severity.Reject) ? Use.Rejected : Use.Suspect;
        return new Verdict(use, JoinCodes(own.Select(f => f.Code)));
    }

    private static Verdict Join(Verdict a, Verdict b) =>
        a.Use == Use.Accepted ? b
        : b.Use == Use.Accepted ? a
        : new Verdict(a.Use > b.Use ? a.Use : b.Use, JoinCodes(a.Because!.Split(',').Concat(b.Because!.Split(','))));

    private static string JoinCodes(IEnumerable<string> codes) =>
        string.Join(',', codes.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal));
}
