using Incubation.Service.Air;
using Incubation.Service.Alarms;
using Incubation.Service.Calling;
using Incubation.Service.Candling;
using Incubation.Service.Care;
using Incubation.Service.Clutches;
using Incubation.Service.CommandLine;
using Incubation.Service.Demo;
using Incubation.Service.Development;
using Incubation.Service.Facility;
using Incubation.Service.FirstScreen;
using Incubation.Service.Genetics;
using Incubation.Service.Hosting;
using Incubation.Service.Http;
using Incubation.Service.Live;
using Incubation.Service.People;
using Incubation.Service.Probes;
using Incubation.Service.Readings;
using Incubation.Service.Review;
using Incubation.Service.Tint;

return await Verbs.RunAsync(args);

/// <summary>The rooms of the service: what each adds, and what it answers. This list is the table of contents.</summary>
internal static class Rooms
{
    public static void Add(IServiceCollection services, RunMode mode) => services
        .AddHosting(mode)
        .AddRecords()
        .AddReadings()
        .AddFacility()
        .AddProbes()
        .AddAir()
        .AddLive()
        .AddAlarms()
        .AddCalling()
        .AddPeople(mode)
        .AddFirstScreen()
        .AddClutches()
        .AddCandling()
        .AddCare()
        .AddDevelopment()
        .AddGenetics()
        .AddTint()
        .AddReview()
        .AddHttp()
        .AddDemo(mode);

    public static void Map(WebApplication app)
    {
        RouteGroupBuilder api = app.UseHttp();
        app.MapHealth();
        app.MapAnswers();
        api.MapPeople();
        api.MapBroker();
        api.MapReadings();
        api.MapFacility();
        api.MapProbes();
        api.MapAir();
        api.MapLive();
        api.MapAlarms();
        api.MapCalling();
        api.MapFirstScreen();
        api.MapClutches();
        api.MapCandling();
        api.MapCare();
        api.MapDevelopment();
        api.MapGenetics();
        api.MapTint();
        api.MapReview();
    }
}
