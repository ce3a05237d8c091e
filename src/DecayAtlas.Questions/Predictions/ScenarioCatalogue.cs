namespace DecayAtlas.Questions.Predictions;

/// <summary>A catalogue in which another climate's grids stand in the place of those of the same name; soil and relief stay as they
/// are.</summary>
public static class ScenarioCatalogue
{
    /// <summary>The entries of <paramref name="grids"/>, swapped. What is computed from swapped covariates is computed anew.</summary>
    /// <param name="path">Where the other one was read, for messages.</param>
    /// <exception cref="ConfigurationException">Nothing would differ, or an input of a derived covariate comes in another unit.</exception>
    public static IReadOnlyList<CatalogueEntry> Of(IReadOnlyList<CatalogueEntry> grids, IReadOnlyList<CatalogueEntry> other, string path)
    {
        CatalogueEntry[] swapped = [.. grids.Select(Swap)];
        return swapped.SequenceEqual(grids)
            ? throw new ConfigurationException($"{path} has no grid of a name that the configuration's catalogue has "
            + $"({string.Join(", ", grids.Select(g => g.Name))}), so nothing would differ.")
            : swapped;

        CatalogueEntry Swap(CatalogueEntry entry)
        {
            if (other.FirstOrDefault(o => o.Name == entry.Name) is { } stated)
                return stated;
            if (entry.Making is not Derivation derivation)
                return entry;
            Dictionary<string, CatalogueEntry> inputs = derivation.Inputs.ToDictionary(i => i.Key, i => Input(entry, i.Value));
            return inputs.All(i => ReferenceEquals(i.Value, derivation.Inputs[i.Key])) ? entry
                : entry with { Making = derivation.From(inputs) };
        }

        // a formula was checked against the units of its own catalogue
        CatalogueEntry Input(CatalogueEntry entry, CatalogueEntry input) => Swap(input) is var found && found.Unit == input.Unit ? found
            : throw new ConfigurationException($"{found.DeclaredAt}: {found.Name} has the unit '{found.Unit}', while {entry.Name} is "
            + $"computed from it in '{input.Unit}'; set its scale, offset and unit.");
    }
}
