using System.Reflection;

namespace DecayAtlas.Atlas.Tests;

public class SensitiveSites
{
    /// <summary>A column that is added is withheld, or named here.</summary>
    [Fact]
    public void Of_a_covariate_nothing_is_known_there_but_which_it_is_and_where_it_is_from()
    {
        ReleasedCovariate known = new() { SiteKey = "c/s", Covariate = "clay" };
        foreach (PropertyInfo property in typeof(ReleasedCovariate).GetProperties().Where(p => p.CanWrite))
        {
            property.SetValue(
                known, property.PropertyType == typeof(string) ? "known" : property.PropertyType == typeof(bool) ? true : 0.5);
        }

        ReleasedCovariate withheld = known.Withheld();

        Assert.Equal(
            ["Covariate", "Formula", "GridFingerprint", "IsClass", "SiteKey", "Unit"],
            typeof(ReleasedCovariate).GetProperties().Where(p => p.CanWrite && Equals(p.GetValue(withheld), p.GetValue(known)))
                .Select(p => p.Name).Order(StringComparer.Ordinal));
        Assert.Equal("withheld", withheld.Status);
    }
}
