namespace DecayAtlas.Serving.Features;

/// <summary>The id of a feature: who or what brought the record, a tilde, and its id there. No id of a contribution holds a tilde, and no
/// address needs it encoded, as it would a slash.</summary>
internal readonly record struct FeatureId(string Owner, string Name) : IComparable<FeatureId>
{
    private const char Joint = '~';

    public static bool IsOne(string text) => text.Length <= 400 && text.IndexOf(Joint, StringComparison.Ordinal) > 0
        && !text.Any(char.IsControl);

    public static FeatureId? Parse(string text) => IsOne(text) && text.Split(Joint, 2) is [var owner, var name] ? new(owner, name) : null;

    public int CompareTo(FeatureId other) => string.CompareOrdinal(Owner, other.Owner) is var order and not 0 ? order
        : string.CompareOrdinal(Name, other.Name);

    public override string ToString() => $"{Owner}{Joint}{Name}";
}
