using System.Globalization;
using Microsoft.Extensions.Primitives;

namespace DecayAtlas.Serving.Features;

/// <summary>Which features are asked for, whatever the page.</summary>
/// <param name="Box">The box they lie in; those without a place are taken too (OGC 17-069r4, requirement fc-bbox-response).</param>
/// <param name="Days">The days they have in common with; those without a time are taken too (requirement fc-time-response).</param>
/// <param name="Equal">Properties and the values they have, in ordinal order of the properties.</param>
internal sealed record FeatureQuery(QueryBox? Box, DaySpan? Days, IReadOnlyList<(string Property, string Value)> Equal)
{
    public bool IsEverything => Box is null && Days is null && Equal.Count == 0;

    /// <summary>The query as the part of an address after the question mark, the same for all ways to write it.</summary>
    public override string ToString()
    {
        string?[] placeAndTime = [Box is { } box ? $"bbox={box}" : null, Days is { } days ? $"datetime={days}" : null];
        return string.Join('&', placeAndTime.OfType<string>().Concat(Equal.Select(e => $"{e.Property}={Uri.EscapeDataString(e.Value)}")));
    }
}

/// <summary>One page of the features that a query gives.</summary>
/// <param name="After">Id of the feature that the page follows; missing for the first page.</param>
internal sealed record PageRequest(FeatureQuery Query, int Limit, string? After, bool IsCsv = false)
{
    public const int DefaultLimit = 10, MostAtOnce = 10_000;

    /// <exception cref="QueryFaultException">One is unknown, there twice, or has a value that can't be.</exception>
    public static PageRequest Parse(IQueryCollection parameters, IReadOnlyList<PropertyFilter> filters)
    {
        QueryBox? box = null;
        DaySpan? days = null;
        int limit = DefaultLimit;
        string? after = null;
        bool isCsv = false;
        List<(string Property, string Value)>? equal = null;
        foreach ((string name, StringValues values) in parameters)
        {
            if (values.Count != 1)
                throw new QueryFaultException($"{QueryFaultException.Quoted(name)} is there {values.Count} times; expected once.");
            string value = values[0]!;
            switch (name)
            {
                case "bbox":
                    box = QueryBox.Parse(value);
                    break;
                case "datetime":
                    days = DaySpan.Parse(value);
                    break;
                case "limit":
                    limit = LimitOf(value);
                    break;
                case "after":
                    after = AfterOf(value);
                    break;
                case "f":
                    isCsv = value is "csv" ? true : value is "geojson" or "json" ? false
                        : throw new QueryFaultException("f", value, "geojson or csv");
                    break;
                default:
                    PropertyFilter filter = filters.FirstOrDefault(f => f.Property == name)
                        ?? throw new QueryFaultException($"There is no parameter {QueryFaultException.Quoted(name)}; there are bbox, "
                            + $"datetime, limit, after, f, {string.Join(", ", filters.Select(f => f.Property))}.");
                    filter.Check(value);
                    (equal ??= []).Add((name, value));
                    break;
            }
        }

        equal?.Sort((a, b) => string.CompareOrdinal(a.Property, b.Property));
        return new PageRequest(new FeatureQuery(box, days, equal ?? []), limit, after, isCsv);
    }

    /// <summary>The part of an address after the question mark that asks for this page.</summary>
    public override string ToString()
    {
        string query = Query.ToString();
        string page = (Limit == DefaultLimit ? "" : $"&limit={Limit}")
            + (After is null ? "" : "&after=" + Uri.EscapeDataString(After)) + (IsCsv ? "&f=csv" : "");
        return query.Length > 0 ? query + page : page.TrimStart('&');
    }

    // what is above the most is taken as the most, as abstract test fc-limit-response asks; what is no 32-bit number is no limit
    private static int LimitOf(string value) =>
        int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out int limit) && limit >= 1 ? Math.Min(limit, MostAtOnce)
        : throw new QueryFaultException("limit", value, $"a whole number from 1 to {MostAtOnce}");

    private static string AfterOf(string value) => FeatureId.IsOne(value) ? value
        : throw new QueryFaultException("after", value, "the id of a feature, as a link named next gives it");
}
