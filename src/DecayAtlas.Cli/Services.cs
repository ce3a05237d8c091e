using Microsoft.Extensions.DependencyInjection;
using Spectre.Console.Cli;

namespace DecayAtlas.Cli;

/// <summary>The platform's services, handed to the command library in its own words.</summary>
internal sealed class Services(IServiceCollection services) : ITypeRegistrar
{
    public void Register(Type service, Type implementation) => services.AddTransient(service, implementation);

    public void RegisterInstance(Type service, object implementation) => services.AddSingleton(service, implementation);

    public void RegisterLazy(Type service, Func<object> factory) => services.AddSingleton(service, _ => factory());

    public ITypeResolver Build() => new Resolver(services.BuildServiceProvider());

    private sealed class Resolver(IServiceProvider provider) : ITypeResolver
    {
        public object? Resolve(Type? type) => type is null ? null : provider.GetService(type);
    }
}
