"""The few lines of script: keep a copy for a day without signal, say how old it is, and filter.

Every page is whole without them.  None holds a word of the job, so their digests stand in the
pages' policy; what differs from page to page are attributes.
"""

from __future__ import annotations

import json
from collections.abc import Mapping

from cardgen.record.names import WORKER

# Registered where that is supported: over https, or on this machine.
PAGE = f"""
(async()=>{{
const note=document.getElementById('saved'),root=new URL(note.dataset.root,location.href);
if(!('serviceWorker' in navigator)||!isSecureContext||!window.caches||
!/^https?:$/.test(location.protocol))return;
const tell=async()=>{{
const name=(await caches.keys()).find(n=>n.startsWith('record '+root.pathname+' '));
const kept=name&&await(await caches.open(name)).match(new URL('saved_at',root));
if(!kept)return;
const [revision,at]=(await kept.text()).split(' ');
const days=Math.max(0,Math.floor((Date.now()-at)/864e5)),d=note.dataset;
note.textContent=(navigator.onLine?'':d.cut+' ')+d.saved.replace('#revision',revision)
.replace('#age',new Date(+at).toISOString().slice(0,10)+' ('+(days?days+' '+d.days:d.today)+')');
note.hidden=false}};
try{{
navigator.serviceWorker.addEventListener('controllerchange',tell);
await navigator.serviceWorker.register(new URL('{WORKER}',root),{{updateViaCache:'none'}});
await navigator.serviceWorker.ready;
}}catch(e){{}}
tell();addEventListener('offline',tell);addEventListener('online',tell)
}})()
""".strip()

# What a tag says may be typed whole, with the address before it, and without accents.
FIND = """
(()=>{
const field=document.getElementById('field'),none=document.getElementById('none');
const rows=[...document.querySelectorAll('[data-find]')];
const heads=[...document.querySelectorAll('[data-group]')];
const plain=said=>said.toLowerCase().normalize('NFD').replace(/[\u0300-\u036f]/g,'');
for(const row of rows)row.dataset.find=plain(row.dataset.find);
const look=()=>{
const words=plain(field.value).replace(/^https?:\\/\\/\\S*?(?=[0-9a-z]{12,26}\\/)/,'')
.split(/\\s+/).filter(Boolean);
let found=0;
for(const row of rows){
const text=row.dataset.find;
row.hidden=!words.every(w=>(' '+text).includes(/^[a-z]{0,3}-?\\d/.test(w)?' '+w:w));
found+=!row.hidden}
for(const head of heads)head.hidden=!head.querySelector('[data-find]:not([hidden])');
none.hidden=found>0};
document.getElementById('form').hidden=false;
field.addEventListener('input',look);look()
})()
""".strip()


def worker(digests: Mapping[str, str], revision: int, digest: str) -> str:
    """The service worker of a job: it holds the pages named, and no others.

    A page comes from the network where that answers in time, else from the copy.  A newer record
    has another digest, so its worker fills a copy of its own and takes the older ones away when
    all of it is there.
    """
    pages = json.dumps(sorted(digests), separators=(",", ":"))
    return f"""// Keeps revision {revision} of this job on the phone.
'use strict';
const PAGES={pages};
const ROOT=new URL('./',self.location),OURS='record '+ROOT.pathname+' ',NAME=OURS+'{digest}';
const WAIT=4000;
const at=page=>new URL(page,ROOT).href;
const KNOWN=new Set(PAGES.map(at)),SAVED=at('saved_at');

async function fill(){{
  const store=await caches.open(NAME);
  for(let i=0;i<PAGES.length;i+=8)
    await Promise.all(PAGES.slice(i,i+8).map(async page=>{{
      const answer=await fetch(at(page),{{cache:'reload',redirect:'error'}});
      if(!answer.ok)throw new Error(page);
      await store.put(at(page),answer);
    }}));
  await store.put(SAVED,new Response('{revision} '+Date.now()));
  await self.skipWaiting();
}}
async function tidy(){{
  const names=await caches.keys();
  await Promise.all(names.filter(n=>n.startsWith(OURS)&&n!==NAME).map(n=>caches.delete(n)));
  await self.clients.claim();
}}
async function answer(request,page){{
  const kept=await(await caches.open(NAME)).match(page);
  if(!kept)return fetch(request);
  try{{
    const late=new Promise((_,no)=>setTimeout(no,WAIT));
    const fresh=await Promise.race([fetch(request),late]);
    return fresh.ok?fresh:kept;
  }}catch(e){{return kept}}
}}
self.addEventListener('install',e=>e.waitUntil(fill()));
self.addEventListener('activate',e=>e.waitUntil(tidy()));
self.addEventListener('fetch',e=>{{
  const url=new URL(e.request.url);url.hash='';url.search='';
  if(e.request.method!=='GET'||!url.href.startsWith(ROOT.href))return;
  if(url.href.endsWith('/'))url.href+='index.html';
  if(KNOWN.has(url.href))e.respondWith(answer(e.request,url.href));
  else if(e.request.mode==='navigate'&&KNOWN.has(url.href+'/index.html'))
    e.respondWith(Response.redirect(url.href+'/'));
}});
"""
