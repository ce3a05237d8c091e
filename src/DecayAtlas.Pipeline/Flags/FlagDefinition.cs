using System.Reflection;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>
/// One flag: what its code means, its limits and how it is raised. A limit is a property with a <c>[Setting]</c>; configuration, schema and
/// documents take it from there. Its name is released in snake case, so that it stays as it is.
/// </summary>
/// <param name="Code">Stable kebab-case code.</param>
/// <param name="Meaning">What was found, and why it matters.</param>
/// <param name="Rule">The exact rule, with the name of the setting that holds its limit.</param>
public abstract record FlagDefinition(FlagFamily Family, string Code, Severity Severity, RecordKind On, string Meaning, string Rule,
    string Mend)
{
    /// <summary>Whether it makes burials noted: it changes no use, but answers, the model and the map are given without such burials
    /// too.</summary>
    public virtual bool CastsDoubt => false;

    /// <summary>Whether a note is put to the group that dug as something to look at, and not among those that change nothing.</summary>
    public virtual bool AsksForALook => CastsDoubt;

    /// <summary>Whether it says again what the group told by itself, so that there is nothing to mend and no slip to look for.</summary>
    public virtual bool IsAsTold => false;

    /// <summary>Whether it is about a production lot, which is the campaign's and not the group's to mend.</summary>
    public virtual bool IsOfLot => false;

    internal virtual IEnumerable<Flag> Raise(FlagInputs inputs) => [];

    /// <summary>The flags that need to know which records the standing flags of the others set aside: these are no measure for their
    /// neighbours.</summary>
    internal virtual IEnumerable<Flag> RaiseAmong(FlagInputs inputs, IReadOnlySet<RecordKey> aside) => [];

    /// <summary>The flags on means that stand for burials: what cannot be so of a bag cannot be so of their mean.</summary>
    internal IEnumerable<Flag> RaiseOnResults(FlagInputs inputs) =>
        from result in inputs.Results
        let grounds = JudgeResult(result)
        where grounds is not null
        select FlagOn(result.Key, grounds);

    internal virtual Grounds? JudgeResult(SentResult result) => null;

    /// <summary>Whether it judges means that stand for burials, be it besides single records.</summary>
    public bool StandsOnResults =>
        GetType().GetMethod(nameof(JudgeResult), BindingFlags.Instance | BindingFlags.NonPublic)!.DeclaringType != typeof(FlagDefinition);

    /// <summary>The kinds of record it stands on, in words.</summary>
    public string StandsOn => AtlasCode.Of(On) + (StandsOnResults && On != RecordKind.Result ? ", result" : "");

    internal Flag FlagOn(string contributionId, string recordId, Grounds grounds) =>
        FlagOn(new RecordKey(contributionId, On, recordId), grounds);

    private Flag FlagOn(RecordKey record, Grounds grounds) =>
        new(record, Code, Severity, grounds.Measured, grounds.Limit, grounds.Unit, grounds.Explanation);
}

internal sealed record Grounds(string Explanation, double? Measured = null, double? Limit = null, string? Unit = null);

/// <summary>A flag that one bag raises by itself.</summary>
internal abstract record BagFlag(FlagFamily Family, string Code, Severity Severity, string Meaning, string Rule, string Mend)
    : FlagDefinition(Family, Code, Severity, RecordKind.Bag, Meaning, Rule, Mend)
{
    internal sealed override IEnumerable<Flag> Raise(FlagInputs inputs) =>
        from bag in inputs.Bags
        let grounds = Judge(bag)
        where grounds is not null
        select FlagOn(bag.Header.ContributionId, bag.Row.BagId, grounds);

    protected abstract Grounds? Judge(Bag bag);
}

/// <summary>A flag that one burial raises by itself.</summary>
internal abstract record BurialFlag(FlagFamily Family, string Code, Severity Severity, string Meaning, string Rule, string Mend)
    : FlagDefinition(Family, Code, Severity, RecordKind.Burial, Meaning, Rule, Mend)
{
    internal sealed override IEnumerable<Flag> Raise(FlagInputs inputs) =>
        from burial in inputs.Burials
        let grounds = Judge(burial)
        where grounds is not null
        select FlagOn(burial.Header.ContributionId, burial.BurialId, grounds);

    protected abstract Grounds? Judge(Burial burial);
}

/// <summary>A flag on a site; of a sensitive one it does not tell where it lies.</summary>
internal abstract record SiteFlag(string Code, Severity Severity, string Meaning, string Rule, string Mend)
    : FlagDefinition(FlagFamily.Place, Code, Severity, RecordKind.Site, Meaning, Rule, Mend)
{
    private static readonly Grounds Withheld = new("Numbers withheld: the site is marked sensitive.");

    internal sealed override IEnumerable<Flag> Raise(FlagInputs inputs) =>
        Judge(inputs)
            .Select(s => FlagOn(s.Site.ContributionId, s.Site.Row.SiteId, s.Site.Row.CoordinatesSensitive == true ? Withheld : s.Grounds));

    /// <summary>The sites that raise it; a flag that looks at one site at a time overrides <see cref="Judge(Site, FlagInputs)"/>.</summary>
    protected virtual IEnumerable<(Site Site, Grounds Grounds)> Judge(FlagInputs inputs) =>
        from site in inputs.Sites
        let grounds = Judge(site, inputs)
        where grounds is not null
        select (site, grounds);

    protected virtual Grounds? Judge(Site site, FlagInputs inputs) => null;
}
