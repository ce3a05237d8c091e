import json,sys,os,math,datetime as dt,glob,zipfile,re,subprocess
import openpyxl
root=sys.argv[1]; bad=0
def say(*a):
    global bad; bad+=1; print('!!',*a)
def numbers(path):
    """all text of the file, numbers normalised to digit strings"""
    ext=path.rsplit('.',1)[1]; raw=open(path,'rb').read()
    if ext in('xlsx',):
        wb=openpyxl.load_workbook(path,data_only=True); t=[]
        for ws in wb:
            for row in ws.iter_rows():
                for x in row:
                    if x.value is not None: t.append(repr(round(x.value,6)) if isinstance(x.value,float) else str(x.value))
        return t
    if ext in('ods','xls') and not raw[:5]==b'<html':
        import tempfile; o=tempfile.mkdtemp(); subprocess.run(['soffice','--headless','--convert-to','xlsx','--outdir',o,path],capture_output=True); return numbers(f"{o}/{os.path.basename(path).rsplit('.',1)[0]}.xlsx")
    for enc in('utf-16' if raw[:2] in(b'\xff\xfe',b'\xfe\xff') else 'utf-8-sig','cp1252'):
        try: s=raw.decode(enc); break
        except UnicodeDecodeError: pass
    return re.split(r'[\t\n;"<>]|,(?!\d)|(?<!\d),',s) + re.split(r'[\s,;"<>]',s)+re.split(r'[\s;"<>]|(?<=\.\d{2}),|(?<=\.\d{3}),|(?<=\.\d{4}),',s)
def vals(t):
    out=set()
    for x in t:
        for m in re.finditer(r"\d[\d.,'’]*",x):
            q=m.group().rstrip(".,'")
            for cand in {q,q.replace(',','.'),re.sub(r"[.,'’](?=\d{3}(\D|$))",'',q),q.replace(',','')}:
                try: v=float(cand); out.add(round(v,4)); 
                except ValueError: pass
    return out
tot=0
for dname in sorted(os.listdir(root)):
    p=f'{root}/{dname}'
    if not os.path.isdir(p): continue
    T=json.load(open(p+'/truth.json')); C=json.load(open(f"{root}/{T['campaign']}")); lots={l['id']:l for l in C['lots']}
    fs=[f for f in os.listdir(p) if f.startswith('sheet')]; 
    if fs!=[T['file']]: say(dname,'files',fs)
    if len(re.findall(r'[.!?](\s|$)',open(p+'/story.md').read()))<2: say(dname,'story short')
    by={}
    for b in T['bags']:
        if (b['burial'],b['role']) in by: say(dname,'double',b['burial'],b['role'])
        by[b['burial'],b['role']]=b
        if lots[b['lot']]['role']!=b['role']: say(dname,'role')
        for w,key in(('burial_window','buried_on'),('digging_window','retrieved_on')):
            if b[key] and not C[w][0]<=b[key]<=C[w][1]: say(dname,key,b[key])
        cc={'DE':(47,55,6,15),'AT':(46,49,9,17),'CH':(45.8,47.9,5.9,10.5),'FR':(42,51,-5,8.3),'ES':(36,44,-9.4,3.4),'GB':(50,59,-8,1.8),'IE':(51,55.5,-10.6,-6),'US':(25,49,-125,-66),'CA':(42,60,-130,-55),'CL':(-55,-18,-75.5,-67),'AR':(-55,-22,-73,-53.6),'NZ':(-47.5,-34,166,179),'ZA':(-35,-22,16.4,33),'RE':(-21.5,-20.8,55.2,55.9)}.get(T['country'])
        if cc and b['latitude'] is not None and not(cc[0]<=b['latitude']<=cc[1] and cc[2]<=b['longitude']<=cc[3]): say(dname,'coords',b['latitude'],b['longitude'],T['country'])
        if not cc: print('  no box for',T['country'])
    V=vals(numbers(f"{p}/{T['file']}"))
    miss=0
    for b in T['bags']:
        for k in('mass_initial_g','mass_final_g'):
            m=b[k]
            if m is not None and not({round(m,4),round(m*1000,4)}&V): miss+=1
    keys=list(dict.fromkeys(b['burial'] for b in T['bags']))
    if [x['burial'] for x in T['k_s']]!=keys: say(dname,'k_s keys')
    nk=0;nu=[]
    for x in T['k_s']:
        f=by.get((x['burial'],'fast')); s=by.get((x['burial'],'slow')); k=S=None
        if f['site']!=s['site'] or f['buried_on']!=s['buried_on'] or f['retrieved_on']!=s['retrieved_on']: say(dname,'pair',x)
        def rem(b):
            u=lots[b['lot']]['tare_g'] if b['gross'] else 0.0
            r=(b['mass_final_g']-u)/(b['mass_initial_g']-u)
            lo,hi=(.25,.6) if b['role']=='fast' else(.6,.9)
            if not lo<=r<=hi: say(dname,'remaining',b['role'],round(r,3))
            n0=b['mass_initial_g']-u; 
            if not 1.4<n0<3.1: say(dname,'m0',n0)
            return r
        if f['mass_final_g'] is not None: S=1-(1-rem(f))/lots[f['lot']]['hydrolysable_fraction']
        if s['mass_final_g'] is not None:
            ws=rem(s)
            if S is not None:
                A=lots[s['lot']]['hydrolysable_fraction']*(1-S); t=(dt.date.fromisoformat(s['retrieved_on'])-dt.date.fromisoformat(s['buried_on'])).days; z=ws-(1-A)
                if not 70<=t<=110: say(dname,'days',t)
                if z>0: k=-math.log(z/A)/t
        for nm,a in(('k',k),('S',S)):
            g=x[nm]
            if (a is None)!=(g is None) or (a is not None and abs(a-g)>1e-6): say(dname,x['burial'],nm,a,g)
        if k is not None:
            nk+=1
            if not .005<=k<=.03: say(dname,x['burial'],'k range',k)
            if not 0<=S<=.6: say(dname,'S',S)
    tot+=len(T['bags'])
    print(f"{dname:38s} {T['file']:11s} bags {len(T['bags']):3d} lost/null {sum(b['mass_final_g'] is None for b in T['bags'])} burials {len(keys):3d} k {nk:3d} ask {len(T['must_ask'])} tell {len(T['must_tell'])} not-in-file {miss}")
print('bags',tot,'problems',bad)
